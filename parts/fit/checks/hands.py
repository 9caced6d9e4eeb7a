"""The hands: on their posts, over each other, under the crystal, inside the opening, and their weight.

Source: fit model sections 4 and 5; gravity 9.80665 m/s² (Handbook of Mathematical Functions, AMS 55, table 2.4).
"""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise
from typing import TYPE_CHECKING

from parts.fit.arithmetic.elementwise import pick, upper
from parts.fit.arithmetic.quantities import Quantity, greatest, in_hand, product
from parts.fit.bands import as_it_is, by_accepting, by_work, fits, no, work
from parts.fit.bands import bands as line
from parts.fit.levels import widths
from parts.fit.records import fitted
from parts.fit.seating.lifts import stands_at
from parts.fit.seating.rim import tip_at_rim
from parts.fit.seating.sweep import reach_of
from parts.fit.verdicts import Finding, Span, judge, weakest

if TYPE_CHECKING:
    from parts.fit.pairing import Pairing, Seat, Seating

GRAVITY = 9.80665
"""m/s², exact."""


def set_gap(
    p: Pairing, key: str, title: str, value: Quantity, between: str, hand: str, small: Seating | None = None
) -> Finding:
    """Room at a hand (by its name); `between` says in words of what it is.

    A gap that the hands are set to lies where they can be set; a wider one has the interval of its own heights, which
    reaches as far as all gaps can be set.
    """
    seating, spot = small or p.seating, between[:1].lower() + between[1:]
    span, decides = None, value
    if value.known:
        set_to = stands_at(value, seating)
        low = pick(set_to, seating.low, upper(value.low, seating.low))
        span = low, pick(set_to, seating.high, upper(value.high, seating.high))
        decides = pick(set_to, Quantity(value.value, seating.binding.spread, (), seating.binding.unbounded), value)
    return judge(
        key,
        title,
        decides,
        line(
            no("{between}: {value}. They touch, or nearly."),
            p.rules.gap_touch,
            work("{between}: only {value}.", by_work(f"Set under magnification: {as_it_is(spot)}, only {{value}}.")),
            p.rules.gap_min,
            fits("{between}: {value}."),
        ),
        span=span,
        provisional=seating.left_out,
        between=between,
        hand=hand,
    )


def gaps(p: Pairing) -> Iterator[Finding]:
    """The gaps from the dial up to the crystal, at the lifts that the seating gives."""
    seats = p.seating.seats
    yield set_gap(
        p,
        "gap-hour-dial",
        "Hour hand over the dial",
        seats["hour"].hub_bottom - p.stack.face_at_hub,
        "Hour hub to dial",
        "hour",
    )
    for below, above in pairwise(seats):
        value = seats[above].hub_bottom - seats[below].top_above
        title = f"{above.capitalize()} hand over {below} hand"
        yield set_gap(p, f"gap-{below}-{above}", title, value, f"{above.capitalize()} hub to {below} hand", above)
    over = [
        set_gap(
            p,
            "gap-furniture",
            "Hands over raised markers",
            gap,
            f"{name.capitalize()} hand to {item or 'raised marker'}",
            name,
        )
        for name, seat in seats.items()
        for item, gap in seat.over_furniture(p.stack.face)
    ]
    if over:
        yield weakest(over)
    title = "Hands under the crystal"
    under_glass = [
        set_gap(p, "gap-crystal", title, crystal_gap(p, seat), f"{name.capitalize()} hand to crystal", name)
        for name, seat in seats.items()
    ]
    under_glass += [
        set_gap(
            p, "gap-crystal", title, crystal_gap(p, seat), f"{name.capitalize()} hand to crystal", name, small.seating
        )
        for name, small in p.small.items()
        if small.seating
        for seat in small.seating.seats.values()
    ]
    yield weakest(under_glass + [_bare_post(p, title, name, *bare) for name, bare in p.seating.bare.items()])


def _bare_post(p: Pairing, title: str, name: str, gap: Quantity, height: Quantity) -> Finding:
    """Room over a post that carries no hand: where it is short, the post is cut or taken out."""
    top = height + gap - p.rules.gap_min
    return judge(
        "gap-crystal",
        title,
        gap,
        line(
            work(
                f"The bare {name} post has only {{value}} to the crystal.",
                by_work(f"Cut the bare {name} post to {{top}} above the dial rest, or take it out."),
            ),
            p.rules.gap_min,
            fits(f"Bare {name} post to crystal: {{value}}."),
        ),
        provisional=p.seating.left_out,
        top=top,
    )


def crystal_gap(p: Pairing, seat: Seat) -> Quantity:
    """Room between a hand's top, risen by its end play, and the crystal where it sweeps."""
    return seat.room + p.stack.sunk - (seat.top_above - p.stack.face)


def tip_clearance(p: Pairing) -> Iterator[Finding]:
    """Room between the longest hand, tails counted, and the rim: the dial opening, or the rim's profile over it."""
    if p.case.rim:
        seats = p.seating.seats
        yield weakest([_tip(p, name, *tip_at_rim(p, seats[name], hand)) for name, hand in fitted(p.hands)])
        return
    longest = greatest(*(reach_of(hand) for _, hand in fitted(p.hands)))
    name = next((path.split(".")[1] for path in longest.spread), "longest")
    room = widths.inner(widths.opening(p.sheet)).less(longest)
    yield _tip(p, name, room.value, longest, room.span)


def _tip(p: Pairing, name: str, room: Quantity, reach: Quantity, span: Span | None = None) -> Finding:
    return judge(
        "tip-clearance",
        "Hand tips to the rim",
        room,
        line(
            no(f"The {name} hand, {{reach}} long, touches the rim or nearly ({{value}})."),
            p.rules.tip_touch,
            work(
                f"The {name} hand clears the rim by only {{value}}.",
                by_work(f"Shorten the {name} hand, or take care to centre the movement."),
            ),
            p.rules.tip_min,
            fits(f"The longest hand ({name}) clears the rim by {{value}}."),
        ),
        span=span,
        provisional=p.seating.left_out if p.case.rim else (),
        reach=reach,
    )


def reach(p: Pairing) -> Iterator[Finding]:
    """How the hour and minute hands reach their marks; taste, so advice only."""
    marks = (
        (
            "minute",
            p.dial.minute_track_radius,
            "minute track",
            p.rules.reach_minute_short,
            p.rules.reach_minute_long,
        ),
        (
            "hour",
            p.dial.hour_marker_inner_radius,
            "hour markers",
            p.rules.reach_hour_short,
            p.rules.reach_hour_long,
        ),
    )
    for name, radius, mark, short, far in marks:
        yield judge(
            f"reach-{name}",
            f"{name.capitalize()} hand reach",
            getattr(p.hands, name).length - radius,
            line(
                work(
                    f"The {name} hand ends {{size}} short of the {mark}.",
                    by_accepting(f"The {name} hand looks short: it ends {{size}} inside the {mark}."),
                ),
                -short,
                fits(f"The {name} hand reaches the {mark} ({{value}})."),
                far,
                work(
                    f"The {name} hand reaches {{size}} past the {mark}.",
                    by_accepting(f"The {name} hand looks long: it reaches {{size}} past the {mark}."),
                ),
            ),
            must=False,
        )


def unbalance(p: Pairing) -> Iterator[Finding]:
    """Torque of each hand's weight held level, against what the movement's maker allows, in µN·m."""
    for name, hand in fitted(p.hands):
        limit = getattr(p.movement.unbalance_limits, name)
        torque = product(hand.mass, hand.centre_of_mass) * (GRAVITY * 1e-3)
        yield judge(
            f"unbalance-{name}",
            f"{name.capitalize()} hand weight",
            torque,
            line(
                fits(f"The {name} hand's unbalance is {{value}}; the limit is {{limit}}."),
                limit.value if limit.known else 0.0,
                no(f"The {name} hand is too heavy: unbalance {{value}}, limit {{limit}}."),
            ),
            unit="uN·m",
            must=in_hand(torque, limit),
            needs=(limit,),
            limit=(limit.value, "uN·m"),
        )
