"""The hands: on their posts, over each other, under the crystal, inside the opening, and their weight.

Source: fit model sections 4 and 5; gravity 9.80665 m/s² (Handbook of Mathematical Functions, AMS 55, table 2.4).
"""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise
from typing import TYPE_CHECKING

from parts.fit.arithmetic.elementwise import Number, Truth, negation, pick, upper
from parts.fit.arithmetic.quantities import SLACK, Quantity, greatest, in_hand, or_else, product
from parts.fit.bands import Verdict, as_it_is, by_accepting, by_part, by_work, fits, no, work, work_if
from parts.fit.bands import bands as line
from parts.fit.levels import widths
from parts.fit.records import Hand, Post, SubPost, fitted
from parts.fit.seating.lifts import stands_at
from parts.fit.seating.rim import tip_at_rim
from parts.fit.seating.sweep import reach_of
from parts.fit.verdicts import Finding, Span, judge, weakest

if TYPE_CHECKING:
    from parts.fit.pairing import Pairing, Seat, Seating

GRAVITY = 9.80665
"""m/s², exact."""


def hole_on_post(p: Pairing, post: Post | SubPost, hand: Hand) -> tuple[Quantity, Quantity, Quantity]:
    """The hand's hole less its post, the hole and the post; by their trade sizes where only those are known."""
    hole, diameter = hand.hole_diameter, post.diameter
    sold = hand.made_for - post.made_for
    if not sold.known:
        return hole - diameter, hole, diameter
    sold = pick(abs(sold.value) <= p.rules.made_for_tol + SLACK, Quantity(0.0, dict.fromkeys(sold.spread, 0.0)), sold)
    difference = pick(in_hand(hole), hole - diameter, sold)
    return difference, or_else(hole, hand.made_for), or_else(diameter, post.made_for)


def posts(p: Pairing) -> Iterator[Finding]:
    """Each hand's hole on its post: negative is a press fit, positive is loose. Trying it on decides over both."""
    for name, hand in fitted(p.hands):
        yield on_post(p, f"post-{name}", name, hand, getattr(p.movement.posts, name))


def on_post(p: Pairing, key: str, name: str, hand: Hand, post: Post | SubPost) -> Finding:
    """One hand on its post; `name` is what it is called in the sentences."""
    difference, hole, diameter = hole_on_post(p, post, hand)
    check = _by_size(p, key, name, hand, difference, hole, diameter)
    return _tried(p, key, name, hand, difference, diameter, check) if hand.tried else check


THIN_POST = 0.5
"""mm; hands on thinner posts are pressed on with less."""


def _press(p: Pairing, post: Quantity) -> Number:
    thin = post.known and post.value < THIN_POST - SLACK
    return pick(thin, min(p.rules.post_press_thin, p.rules.post_press_max), p.rules.post_press_max)


def _by_size(
    p: Pairing, key: str, name: str, hand: Hand, difference: Quantity, hole: Quantity, post: Quantity
) -> Finding:
    free, press, wall = p.rules.post_open_free, _press(p, post), p.rules.hub_wall
    opened = work(
        f"The {name} hand's hole, {{hole}}, is {{size}} smaller than its {{post}} post.",
        by_work(f"Open the {name} hand from {{hole}} to fit the {{post}} post."),
        side=-1,
    )
    bushed = work(
        f"The {name} hand is {{size}} loose on its {{post}} post.",
        by_part(f"Bush the {name} hand for the {{post}} post."),
        side=1,
    )
    hub = hand.hub_diameter
    check = judge(
        key,
        f"{name.capitalize()} hand on its post",
        difference,
        line(
            work_if(
                _left_of_hub(p, hand, post),
                opened,
                f"The {name} hand's hole is {{size}} too small; opened for the {{post}} post the hub would break.",
            ),
            -free,
            opened,
            -press,
            fits(f"The {name} hand is a press fit ({{value}})."),
            0.0,
            work(
                f"The {name} hand is {{size}} loose on its post.",
                by_work(f"Close the {name} hand's collet."),
                side=1,
            ),
            p.rules.post_close_max,
            work_if(
                hub - greatest(hole, post + 2 * wall) - 2 * wall,
                bushed,
                f"The {name} hand is {{size}} loose, and its {{hub}} hub is too narrow for a bush: get another hand.",
            ),
        ),
        measure_first=f"Measure the {name} hand's hole and its post with pin gauges: then open it or close it.",
        hole=hole,
        post=post,
        hub=hub,
    )
    if not difference.known or hand.tried:
        return check
    near = (abs(difference.value) <= free + SLACK) & (difference.half_width >= press / 2 - SLACK)
    undecided = (check.rank == Verdict.WORK.rank) | (check.rank == Verdict.UNCLEAR.rank)
    return check.work_where(
        near & undecided & in_hand(difference),
        f"The {name} hand's hole and its post are too near for measuring ({{value}}).",
        by_work(f"Try the {name} hand on the post."),
    )


def _left_of_hub(p: Pairing, hand: Hand, post: Quantity) -> Quantity:
    """How much wider the hub is than it has to be to be opened to the post."""
    return hand.hub_diameter - post - 2 * p.rules.hub_wall


def _tried(
    p: Pairing, key: str, name: str, hand: Hand, difference: Quantity, post: Quantity, by_size: Finding
) -> Finding:
    """What trying the hand on its post says, and its size where that decides how, or whether, it can be mended.

    A loose hand is too wide to close, or may be; a tight one has to be opened so far that its hub may break.
    """
    says = fits(f"The {name} hand was tried on its post and grips.")
    if hand.tried != "grips":
        remedy = (
            f"Open the {name} hand to fit its post." if hand.tried == "tight" else f"Close the {name} hand's collet."
        )
        says = work(f"The {name} hand was tried on its post and is {hand.tried}.", by_work(remedy))
    measured = in_hand(difference)
    value = pick(measured, difference, Quantity(0.0))
    check = judge(key, f"{name.capitalize()} hand on its post", value, line(says))
    if hand.tried == "grips":
        return check
    if hand.tried == "loose":
        decides = negation(measured) | (value.value > p.rules.post_close_max + SLACK)
    else:
        left = _left_of_hub(p, hand, post)
        far: Truth = left.known and left.low < -SLACK
        decides = pick(measured, value.value < -p.rules.post_open_free - SLACK, far)
    return pick(decides, by_size, check)


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
