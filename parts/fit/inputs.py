"""What one input of a pairing sheet is: its name in words, its unit, its limits and where it is measured."""

from dataclasses import dataclass, field
from typing import Any

from parts.fit.errors import SheetError
from parts.fit.units import spoken_unit

_LARGEST = 1e9
"""Far beyond anything in a watch, and what arithmetic still carries."""
_FINEST = 1e-4
"""The least that is told apart from 0, in every unit (mm, degrees, mg, mAh, uA, uN·m): finer than any instrument at a
bench, and large enough that squares and quotients of such numbers stay numbers."""


@dataclass(frozen=True, slots=True)
class Input:
    """One dimension or other number of a part.

    `label` names it within its part; `where` says how it is taken; values lie from `least` to `most`,
    `least` itself excluded where `above` is set. A `bounded` one may be known by its least value alone.
    """

    label: str
    where: str = ""
    unit: str = "mm"
    least: float = 0.0
    above: bool = False
    most: float = 100.0
    bounded: bool = False

    @property
    def limits(self) -> str:
        """The limits in words, unit included."""
        unit = spoken_unit(self.unit)
        if self.above:
            return f"above {self.least:g}, at most {self.most:g} {unit}"
        return f"between {self.least:g} and {self.most:g} {unit}"

    def check(self, key: str, value: float, plus_minus: float = 0.0) -> None:
        """Refuse a number that no such dimension can have (SheetError names `key`)."""
        ordinary = type(value) is type(plus_minus) is float and _FINEST <= value <= self.most and self.least < value
        if ordinary and (not plus_minus or _FINEST <= plus_minus <= self.most):
            return
        told_apart(key, value, spoken_unit(self.unit))
        if value < self.least or (self.above and value == self.least) or value > self.most:
            raise SheetError(key, value, self.limits, f"out of range for {self.label}")
        if told_apart(key, plus_minus, spoken_unit(self.unit)) < 0 or plus_minus > self.most:
            raise SheetError(key, plus_minus, f"between 0 and {self.most:g}", "not a plus-minus")


def finite(key: str, value: object) -> float:
    """The value, refused with SheetError unless it is a finite number."""
    if isinstance(value, bool) or not isinstance(value, (int, float)):
        raise SheetError(key, value, "a number", "not a number")
    if not -_LARGEST <= value <= _LARGEST:
        raise SheetError(key, value, f"a finite number, {_LARGEST:g} at most", "far beyond any measurement")
    return value


def told_apart(key: str, value: Any, unit: str = "") -> float:
    """The value, refused with SheetError unless it is a finite number that is 0 or large enough to be told from it."""
    number = finite(key, value)
    if 0 < abs(number) < _FINEST:
        raise SheetError(key, value, f"0, or at least {_FINEST:g} {unit}".strip(), "no instrument tells so little")
    return number


def _field(**spec: Any) -> Any:
    return field(default=None, metadata={"input": Input(**spec)})


def a_size(label: str, where: str = "", **limits: Any) -> Any:
    """A diameter, thickness or width: above zero."""
    return _field(label=label, where=where, above=True, **limits)


def a_length(label: str, where: str = "", **limits: Any) -> Any:
    """A length, height, depth or radius that may be zero."""
    return _field(label=label, where=where, **limits)


def a_height(label: str, where: str = "", most: float = 100.0) -> Any:
    """A height over a plane, that may lie below it."""
    return _field(label=label, where=where, least=-most, most=most)


def an_angle(label: str, where: str = "") -> Any:
    """An angle clockwise as seen from the dial side."""
    return _field(label=label, where=where, unit="deg", least=-360.0, most=360.0)


def an_amount(label: str, unit: str, where: str = "", *, most: float = 10000.0, above: bool = False) -> Any:
    """A mass, torque, capacity or current."""
    return _field(label=label, where=where, unit=unit, most=most, above=above)
