"""Small seconds and other hands beside the middle: the post in its subdial, the hand on it and over it.

Source: fit model section 11.7. Of several posts each has checks of its own, numbered in the order of the movement's.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from parts.fit.arithmetic.elementwise import Number, is_column, upper
from parts.fit.arithmetic.polar import apart
from parts.fit.arithmetic.quantities import Quantity, unknown
from parts.fit.bands import as_it_is, by_accepting, by_part, by_work, fits, no, work
from parts.fit.bands import bands as line
from parts.fit.checks.hands import set_gap
from parts.fit.checks.posts import on_post
from parts.fit.records import HANDS, SMALL_HANDS, Subdial, SubPost
from parts.fit.verdicts import Finding, judge

if TYPE_CHECKING:
    from parts.fit.pairing import Pairing, Small


def place(p: Pairing) -> Iterator[Finding]:
    """Whether each post stands in its subdial's hole, and what of posts and subdials has no other half."""
    if not (p.has("dial") and p.has("movement")):
        return
    count = 0
    for count, (name, small) in enumerate(p.small.items(), 1):
        key, title = _numbered("sub-place", count), f"{_words(name).capitalize()} post"
        yield _in_hole(p, key, title, small.post, small.subdial) if small.subdial else _under_dial(p, key, title, small)
    for subdial in p.dial.subdials:
        if subdial.name not in p.small:
            count += 1
            yield _without_post(_numbered("sub-place", count), subdial)


def _in_hole(p: Pairing, key: str, title: str, post: SubPost, subdial: Subdial) -> Finding:
    turn = p.case.stem_angle + post.angle - subdial.angle
    distance, play = apart(post.radius, turn, subdial.radius), 0.5 * (subdial.hole_diameter - post.diameter)
    edge: Number = play.value if play.known else 0.0
    value = distance + (play - edge) if distance.known and play.known else distance
    words = _words(post.name)
    return judge(
        key,
        title,
        value,
        line(
            fits(f"The {words} post stands {{value}} off the middle of its hole."),
            edge - p.rules.sub_place_min,
            work(
                f"The {words} post stands {{value}} off the middle of its hole and nearly touches it.",
                by_work(f"Open the {words} hole towards the post, or turn the dial until it is free."),
            ),
            edge,
            no(f"The {words} post stands {{value}} off the middle of its hole: it does not pass the dial."),
        ),
        needs=(play,),
        span=(upper(0.0, value.low), value.high) if value.known else None,
        by_row=is_column(edge),
    )


def _under_dial(p: Pairing, key: str, title: str, small: Small) -> Finding:
    """A post for which the dial has no hole: it has to stay under the dial's back."""
    words = _words(small.post.name)
    return judge(
        key,
        title,
        p.stack.behind - small.post.height,
        line(
            work(
                f"The dial has no hole for the {words} post.",
                by_work(f"Cut the bare {words} post below the dial's back, or take its wheel out."),
            ),
            0.0,
            fits(f"The {words} post stays under the dial."),
        ),
    )


def _without_post(key: str, subdial: Subdial) -> Finding:
    words = _words(subdial.name)
    says = work(
        f"The movement has no post for the {words} subdial.",
        by_accepting("A subdial will stand still, or be closed."),
    )
    return judge(key, f"{words.capitalize()} subdial", Quantity(0.0), line(says), unit="count")


def posts(p: Pairing) -> Iterator[Finding]:
    """Each small hand's hole on its post; only where the dial has a subdial for it."""
    for count, (name, small) in enumerate(p.small.items(), 1):
        key, words = _numbered("sub-post", count), _words(name)
        if small.subdial is None:
            continue
        if small.hand:
            yield on_post(p, key, words, small.hand, small.post)
        elif any(p.has(f"hands.{hand}") for hand in HANDS):
            says = work(f"No hand for the {words} post.", by_part(f"Get a hand for the {words} post, {{post}}."))
            title = f"{words.capitalize()} hand on its post"
            yield judge(key, title, Quantity(0.0), line(says), post=small.post.diameter)
        else:
            yield judge(key, f"{words.capitalize()} hand on its post", unknown(f"hands.{SMALL_HANDS}"), [])


def gaps(p: Pairing) -> Iterator[Finding]:
    """Each small hand over its subdial."""
    for count, (name, small) in enumerate(p.small.items(), 1):
        if small.seating and small.seat:
            words, value = _words(name), small.seat.hub_bottom - small.face
            title = f"{words.capitalize()} hand over its subdial"
            between = f"{words.capitalize()} hub to subdial"
            yield set_gap(p, _numbered("sub-gap", count), title, value, between, words, small.seating)


def _numbered(key: str, count: int) -> str:
    return key if count == 1 else f"{key}-{count}"


def _words(name: str) -> str:
    return as_it_is(name.strip()) or "small"
