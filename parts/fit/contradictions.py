"""What a sheet's own numbers say of each other: contradictions are refused.

Source: fit model section 2. Two numbers contradict each other where they cannot both be true, beyond their plus-minus.
"""

from collections.abc import Iterator, Sequence
from itertools import pairwise
from math import hypot
from typing import NamedTuple

from parts.fit.arithmetic.elementwise import is_column
from parts.fit.arithmetic.quantities import SLACK, Quantity
from parts.fit.errors import SheetError
from parts.fit.records import (
    HANDS,
    Case,
    DayDisc,
    Dial,
    Foot,
    Movement,
    Sheet,
    Stem,
    Subdial,
    SubPost,
    Window,
    describe,
    fitted,
)
from parts.fit.records.movement import DAYS

PITCH_READ = 0.05
"""Degrees by which a pitch that somebody rounded may be off."""


class _Order(NamedTuple):
    """Two numbers of which the second is at least the first (or half of it), above it where it is strict."""

    low: str
    a: Quantity
    high: str
    b: Quantity
    reason: str
    strict: bool = True
    half: bool = False

    @property
    def is_broken(self) -> bool:
        """Whether both cannot be true, whatever their plus-minus."""
        if not (self.a.known and self.b.known):
            return False
        over = (0.5 if self.half else 1.0) * self.a.low - self.b.high
        return over > SLACK or (self.strict and over > -SLACK)

    def refusal(self) -> SheetError:
        bound = f"{'half ' if self.half else ''}the {describe(self.low).phrase}, {in_mm(self.a)}"
        limit = f"{'above' if self.strict else 'at least'} {bound}"
        return SheetError(self.high, self.b.value, limit, self.reason, self.low)


def refuse_contradictions(sheet: Sheet) -> None:
    """Raises SheetError, with both keys and both numbers, for the first two numbers that cannot both be true."""
    for order in (*_case(sheet), *_dial(sheet), *_movement(sheet), *_hands(sheet), *_stem(sheet)):
        if order.is_broken:
            raise order.refusal()
    _refuse_outside(sheet.dial)
    _refuse_two_lengths(sheet.stem)
    _refuse_pitch(sheet.movement)
    _refuse_twice("movement.subsidiary", sheet.movement.subsidiary)
    _refuse_twice("dial.subdials", sheet.dial.subdials)


def _case(sheet: Sheet) -> Iterator[_Order]:
    case = sheet.case
    yield _Order(
        "case.dial_opening_diameter",
        case.dial_opening_diameter,
        "case.dial_seat_diameter",
        case.dial_seat_diameter,
        "the dial would fall through the opening",
    )
    yield _Order(
        "case.tube_bore_diameter",
        case.tube_bore_diameter,
        "case.tube_outer_diameter",
        case.tube_outer_diameter,
        "the tube would have no wall",
    )
    if not case.is_front_loaded:
        yield _Order(
            "case.stem_axis_depth",
            case.stem_axis_depth,
            "case.back_depth",
            case.back_depth,
            "the stem would come out behind the back",
        )
    yield from _rim(case)
    if case.is_front_loaded:
        yield from _heights(case)
    yield _Order(
        "case.bore_diameter",
        case.bore_diameter,
        "case.crown_seat_radius",
        case.crown_seat_radius,
        "the crown would sit inside the bore",
        strict=False,
        half=True,
    )


def _rim(case: Case) -> Iterator[_Order]:
    for i in range(1, len(case.rim)):
        low, high = f"case.rim[{i - 1}].height", f"case.rim[{i}].height"
        reason = "the rim's profile rises from point to point"
        yield _Order(low, case.rim[i - 1].height, high, case.rim[i].height, reason, strict=False)


def _heights(case: Case) -> Iterator[_Order]:
    """Of a case loaded from the front, over its floor."""
    reason = "the ring lies over the stem"
    yield _Order("case.floor_stem", case.floor_stem, "case.floor_ring", case.floor_ring, reason)
    for name in ("floor_crystal_centre", "floor_crystal_edge"):
        reason = "the crystal lies over the ring"
        yield _Order("case.floor_ring", case.floor_ring, f"case.{name}", getattr(case, name), reason)


def _dial(sheet: Sheet) -> Iterator[_Order]:
    for i, item in enumerate(sheet.dial.furniture):
        at = f"dial.furniture[{i}]"
        yield _radii(f"{at}.inner_radius", item.inner_radius, f"{at}.outer_radius", item.outer_radius)


def _movement(sheet: Sheet) -> Iterator[_Order]:
    movement = sheet.movement
    yield _Order(
        "movement.fit_diameter",
        movement.fit_diameter,
        "movement.overall_diameter",
        movement.overall_diameter,
        "nothing of a movement is wider than its widest part",
        strict=False,
    )
    yield _Order(
        "movement.stem_axis_depth",
        movement.stem_axis_depth,
        "movement.back_height",
        movement.back_height,
        "the stem would come out behind the movement",
    )
    known = [(name, getattr(movement.posts, name).height) for name in HANDS]
    known = [(name, height) for name, height in known if height.known]
    for (lower, below), (upper, above) in pairwise(known):
        low, high = f"movement.posts.{lower}.height", f"movement.posts.{upper}.height"
        yield _Order(low, below, high, above, f"the {upper} post stands above the {lower} post")
    if movement.date:
        date = movement.date
        yield _radii(
            "movement.date.disc_inner_radius",
            date.disc_inner_radius,
            "movement.date.disc_outer_radius",
            date.disc_outer_radius,
        )


def _hands(sheet: Sheet) -> Iterator[_Order]:
    for name, hand in fitted(sheet.hands):
        at = f"hands.{name}"
        yield _Order(
            f"{at}.thickness",
            hand.thickness,
            f"{at}.hub_height",
            hand.hub_height,
            "the hub is thinner than the blade",
            strict=False,
        )
        yield _Order(
            f"{at}.hole_diameter",
            hand.hole_diameter,
            f"{at}.hub_diameter",
            hand.hub_diameter,
            "the hub would have no wall round its hole",
        )
    yield _Order(
        "hands.minute.hole_diameter",
        sheet.hands.minute.hole_diameter,
        "hands.hour.hole_diameter",
        sheet.hands.hour.hole_diameter,
        "the minute hand's post goes through the hour hand's",
    )


def _stem(sheet: Sheet) -> Iterator[_Order]:
    joint = sheet.stem.joint
    if joint is not None:
        for name in ("inner_length", "outer_length"):
            path, reason = f"stem.joint.{name}", "the parts lie inside each other by less than each is long"
            yield _Order("stem.joint.overlap", joint.overlap, path, getattr(joint, name), reason)


def _radii(low: str, a: Quantity, high: str, b: Quantity) -> _Order:
    return _Order(low, a, high, b, "the two radii are the wrong way round", strict=False)


def _refuse_outside(dial: Dial) -> None:
    """Windows, feet and subdials lie on the dial."""
    if not dial.diameter.known:
        return
    edge, most = dial.diameter.value / 2, dial.diameter.high / 2
    for key, window in (("window", dial.window), ("day_window", dial.day_window)):
        if not isinstance(window, Window) or not (window.radius.known and window.radial.known):
            continue
        across = window.tangential.low / 2 if window.tangential.known else 0.0
        if hypot(window.radius.low + window.radial.low / 2, across) > most + SLACK:
            corner = hypot(window.radius.value + window.radial.value / 2, across)
            limit = (
                f"such that its outer corner, now at {corner:.2f} mm, lies within {edge:.2f} mm, half the dial diameter"
            )
            reason = "the window reaches past the dial's edge"
            raise SheetError(f"dial.{key}.radius", window.radius.value, limit, reason, "dial.diameter")
    lying: tuple[tuple[str, str, Sequence[Foot | Subdial]], ...] = (
        ("feet", "the foot stands outside the dial", dial.feet or ()),
        ("subdials", "the subdial's middle lies outside the dial", dial.subdials),
    )
    for key, reason, rows in lying:
        for i, row in enumerate(rows):
            if row.radius.known and row.radius.low > most + SLACK:
                limit = f"at most {edge:.2f} mm, half the dial diameter"
                raise SheetError(f"dial.{key}[{i}].radius", row.radius.value, limit, reason, "dial.diameter")


def _refuse_two_lengths(stem: Stem) -> None:
    """A split stem measured whole is as long as its parts joined."""
    if stem.joint is None or not stem.length.known:
        return
    joined = stem.joint.inner_length + stem.joint.outer_length - stem.joint.overlap
    if joined.known and abs(joined.value - stem.length.value) > joined.half_width + stem.length.half_width + SLACK:
        limit = f"{in_mm(joined)}, as its parts are when joined, within its ±"
        raise SheetError("stem.length", stem.length.value, limit, "the two lengths differ", "stem.joint")


def _refuse_twice(path: str, rows: Sequence[SubPost | Subdial]) -> None:
    """Posts and subdials belong together by name."""
    names = [row.name for row in rows]
    for i, name in enumerate(names):
        if name in names[:i]:
            first = f"{path}[{names.index(name)}].name"
            raise SheetError(f"{path}[{i}].name", name, "a name of its own", "two have the same name", first)


def _refuse_pitch(movement: Movement) -> None:
    """A week has seven days, on a disc in one language or in two."""
    day = movement.day
    if isinstance(day, DayDisc) and day.pitch.known and not is_column(day.pitch.value):
        pitches = [360 / count for count in DAYS]
        if not any(day.pitch.low - PITCH_READ <= pitch <= day.pitch.high + PITCH_READ for pitch in pitches):
            limit = " or ".join(
                f"{pitch:.4f} degrees (360/{count})" for pitch, count in zip(pitches, DAYS, strict=True)
            )
            raise SheetError("movement.day.pitch", day.pitch.value, limit, "a week has seven days")


def in_mm(quantity: Quantity) -> str:
    return f"{quantity.value:.2f} mm" if quantity.known else "not measured"
