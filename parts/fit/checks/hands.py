"""The hands: on their posts, over each other, under the crystal, inside the opening, and their weight.

Source: fit model sections 4 and 5; gravity 9.80665 m/s² (Handbook of Mathematical Functions, AMS 55, table 2.4).
"""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise
from typing import TYPE_CHECKING

from parts.fit.arithmetic.quantities import Quantity, in_hand, product
from parts.fit.bands import bands as line
from parts.fit.bands import by_accepting, by_part, by_work, fits, no, work
from parts.fit.records import HANDS, fitted
from parts.fit.verdicts import Finding, judge, weakest

if TYPE_CHECKING:
    from parts.fit.pairing import Pairing, Seat

GRAVITY = 9.80665
"""m/s², exact."""


def posts(p: Pairing) -> Iterator[Finding]:
    """Each hand's hole on its post: negative is a press fit, positive is loose."""
    for name, hand in fitted(p.hands):
        post = getattr(p.movement.posts, name)
        yield judge(
            f"post-{name}",
            f"{name.capitalize()} hand on its post",
            hand.hole_diameter - post.diameter,
            line(
                no(f"The {name} hand's hole is {{size}} too small: more than it can be opened."),
                -p.rules.post_open_max,
                work(
                    f"The {name} hand's hole, {{hole}}, is {{size}} smaller than its {{post}} post.",
                    by_work(f"Open the {name} hand from {{hole}} to fit the {{post}} post."),
                ),
                -p.rules.post_press_max,
                fits(f"The {name} hand is a press fit ({{value}})."),
                0.0,
                work(
                    f"The {name} hand is {{size}} loose on its post.",
                    by_work(f"Close the {name} hand's collet."),
                ),
                p.rules.post_close_max,
                work(
                    f"The {name} hand is {{size}} loose on its {{post}} post.",
                    by_part(f"Bush the {name} hand for the {{post}} post."),
                ),
                p.rules.post_bush_max,
                no(f"The {name} hand is {{size}} loose: too much for a bush."),
            ),
            hole=hand.hole_diameter,
            post=post.diameter,
        )


def _gap(p: Pairing, key: str, title: str, value: Quantity, between: str, hand: str) -> Finding:
    """Room at a hand (by its name); `between` says in words of what it is."""
    return judge(
        key,
        title,
        value,
        line(
            no("{between}: {value}. They touch, or nearly."),
            p.rules.gap_touch,
            work("{between}: only {value}.", by_work("Set under magnification: {spot}, only {value}.")),
            p.rules.gap_min,
            fits("{between}: {value}."),
        ),
        between=between,
        hand=hand,
        spot=between[:1].lower() + between[1:],
    )


def gaps(p: Pairing) -> Iterator[Finding]:
    """The gaps from the dial up to the crystal, at the lifts that the seating gives."""
    seats = p.seating.seats
    yield _gap(
        p,
        "gap-hour-dial",
        "Hour hand over the dial",
        seats["hour"].hub_bottom - p.stack.face,
        "Hour hub to dial",
        "hour",
    )
    for lower, upper in pairwise(HANDS):
        if upper in seats:
            value = seats[upper].hub_bottom - seats[lower].top
            title = f"{upper.capitalize()} hand over {lower} hand"
            yield _gap(p, f"gap-{lower}-{upper}", title, value, f"{upper.capitalize()} hub to {lower} hand", upper)
    over = [
        _gap(
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
    yield weakest(
        [
            _gap(p, "gap-crystal", title, crystal_gap(p, seat), f"{name.capitalize()} hand to crystal", name)
            for name, seat in seats.items()
        ]
    )


def crystal_gap(p: Pairing, seat: Seat) -> Quantity:
    """Room between a hand's top and the crystal where it sweeps."""
    return seat.room + p.stack.front - (seat.top - p.stack.face)


def tip_clearance(p: Pairing) -> Iterator[Finding]:
    """Room between the longest hand, tails counted, and the rim of the dial opening."""
    ends = ((name, end) for name, hand in fitted(p.hands) for end in (hand.length, hand.tail))
    yield weakest([_tip(p, name, end) for name, end in ends])


def _tip(p: Pairing, name: str, end: Quantity) -> Finding:
    return judge(
        "tip-clearance",
        "Hand tips to the rim",
        0.5 * p.case.dial_opening_diameter - end,
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
        reach=end,
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
