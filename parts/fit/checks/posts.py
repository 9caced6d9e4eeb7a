"""The hands on their posts: each hole against its post, by measure, by trade size, or by trying it on.

Source: fit model sections 4 and 4a.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from parts.fit.arithmetic.elementwise import Number, Truth, negation, pick
from parts.fit.arithmetic.quantities import SLACK, Quantity, greatest, in_hand, or_else
from parts.fit.bands import Verdict, by_part, by_work, fits, work, work_if
from parts.fit.bands import bands as line
from parts.fit.records import Hand, Post, SubPost, fitted
from parts.fit.verdicts import Finding, judge

if TYPE_CHECKING:
    from parts.fit.pairing import Pairing


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
