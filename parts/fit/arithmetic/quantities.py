"""A number with its uncertainty, carried through the arithmetic of the fit check.

Source: first-order propagation as in fit model section 3; worst case and root sum of squares are both kept,
because statistical tolerancing describes series production and one customer's watch is not a series
(STAT 498B lecture notes, University of Washington, 2007).
"""

from __future__ import annotations

from collections.abc import Callable
from math import inf, nan
from typing import TypeAlias

from parts.fit.arithmetic.elementwise import Number, Truth, is_column, is_lost, negation, pick, root, rounded, somewhere

Spread: TypeAlias = dict[str, Number]
Names: TypeAlias = tuple[str, ...]
SLACK = 1e-9
"""Comparisons of lengths and angles forgive rounding of the arithmetic by this much (fit model section 3)."""


class Quantity:
    """A value, what each input contributes to its half-width (signed), and the inputs that are not measured.

    `spread` maps an input's name to c·u: the derivative of the value by that input, times the input's plus-minus.
    An input that enters with no uncertainty stands in it with 0.0, so that the inputs used can be named.
    `unbounded` maps an input of which only a bound is known ("at least") to its derivative: the interval has no end
    that way.
    A quantity with anything in `missing` has the value None. For many pairings at once value and parts of the spread
    are columns; what is missing in some rows only is NaN there.
    """

    __slots__ = ("_half", "missing", "spread", "unbounded", "value")
    value: Number
    spread: Spread
    missing: Names
    unbounded: Spread

    def __init__(
        self, value: Number | None, spread: Spread | None = None, missing: Names = (), unbounded: Spread | None = None
    ) -> None:
        self.value = value
        self.spread = spread or {}
        self.missing = missing
        self.unbounded = unbounded or _CLOSED
        self._half: Number | None = None

    @property
    def known(self) -> bool:
        return not self.missing

    @property
    def half_width(self) -> Number:
        """Worst case: sum of |c·u|."""
        if self._half is None:
            self._half = sum(map(abs, self.spread.values()))
        return self._half

    @property
    def low(self) -> Number:
        """The least that the value can be, minus infinity where an input without an upper bound takes away from it."""
        return -inf if self.unbounded and min(self.unbounded.values()) < 0 else self.value - self.half_width

    @property
    def high(self) -> Number:
        """The most that the value can be, infinity where an input without an upper bound adds to it."""
        return inf if self.unbounded and max(self.unbounded.values()) > 0 else self.value + self.half_width

    @property
    def rss(self) -> Number:
        """Root sum of squares of c·u."""
        return root(sum(part * part for part in self.spread.values()))

    @property
    def shares(self) -> dict[str, float]:
        """Each input's share of the half-width, 0 to 1; all 0 where nothing is uncertain."""
        total = self.half_width
        return {name: abs(part) / total if total else 0.0 for name, part in self.spread.items()}

    def __add__(self, other: Quantity | Number) -> Quantity:
        if not isinstance(other, Quantity):
            return self if self.missing else Quantity(self.value + other, self.spread, (), self.unbounded)
        return _add(self, other, 1.0)

    def __sub__(self, other: Quantity | Number) -> Quantity:
        return _add(self, other, -1.0) if isinstance(other, Quantity) else self + -other

    def __mul__(self, factor: Number) -> Quantity:
        if self.missing:
            return self
        spread = {name: part * factor for name, part in self.spread.items()}
        opens = {name: slope * factor for name, slope in self.unbounded.items()} if self.unbounded else None
        return Quantity(self.value * factor, spread, (), opens)

    __rmul__ = __mul__

    def mix(self, condition: Truth, other: Quantity) -> Quantity:
        """The one here where the column `condition` holds, the other elsewhere."""
        if self.missing and other.missing:
            return Quantity(None, None, missing_of(self, other))
        mine, theirs = (nan if term.missing else term.value for term in (self, other))
        names = dict.fromkeys((*self.spread, *other.spread))
        spread = {name: pick(condition, self.spread.get(name, 0.0), other.spread.get(name, 0.0)) for name in names}
        return Quantity(pick(condition, mine, theirs), spread, (), self.unbounded | other.unbounded)

    def __repr__(self) -> str:
        return f"Quantity(missing {self.missing})" if self.missing else f"{self.value:g} ±{self.half_width:g}"


_CLOSED: Spread = {}
"""Shared by all quantities that have both ends; never written to."""


def measured(name: str, value: Number, plus_minus: Number = 0.0) -> Quantity:
    """An input as it was measured."""
    return Quantity(value, {name: plus_minus})


def at_least(name: str, bound: float) -> Quantity:
    """An input of which only the least value is known, for what ran together cleared."""
    return Quantity(bound, {name: 0.0}, (), {name: 1.0})


def unknown(*names: str) -> Quantity:
    """An input that is not measured."""
    return Quantity(None, None, names)


def _add(a: Quantity, b: Quantity, sign: float) -> Quantity:
    if a.missing or b.missing:
        return Quantity(None, None, missing_of(a, b))
    spread = a.spread.copy()
    for name, part in b.spread.items():
        spread[name] = spread[name] + sign * part if name in spread else sign * part
    if not (a.unbounded or b.unbounded):
        return Quantity(a.value + sign * b.value, spread)
    opens = a.unbounded.copy()
    for name, slope in b.unbounded.items():
        opens[name] = opens.get(name, 0.0) + sign * slope
    return Quantity(a.value + sign * b.value, spread, (), {name: slope for name, slope in opens.items() if slope})


def through(formula: Callable[..., Number], *terms: tuple[Number, Quantity]) -> Quantity:
    """formula(values...) with the uncertainty carried by the derivatives: terms are (derivative, quantity).

    Where an input is missing the result is missing too, and says which. Derivatives are taken at the nominal point.
    """
    missing = missing_of(*[quantity for _, quantity in terms])
    if missing:
        return Quantity(None, None, missing)
    spread: Spread = {}
    opens: Spread = {}
    for derivative, quantity in terms:
        for name, part in quantity.spread.items():
            spread[name] = spread.get(name, 0.0) + derivative * part
        for name, slope in quantity.unbounded.items():
            opens[name] = opens.get(name, 0.0) + derivative * slope
    value = formula(*[quantity.value for _, quantity in terms])
    opens = {name: slope for name, slope in opens.items() if somewhere(slope != 0)}
    return Quantity(pick(in_hand(*[quantity for _, quantity in terms]), value, nan), spread, (), opens)


def missing_of(*quantities: Quantity) -> Names:
    """The names missing from any of them, each once, in order."""
    names: dict[str, None] = {}
    for quantity in quantities:
        if quantity.missing:
            names |= dict.fromkeys(quantity.missing)
    return tuple(names)


def product(a: Quantity, b: Quantity) -> Quantity:
    """a·b."""
    return through(lambda x, y: x * y, (b.value, a), (a.value, b))


def quotient(a: Quantity, b: Quantity) -> Quantity:
    """a/b; the reader of the sheet has seen to it that b is above zero."""
    known = a.known and b.known
    return through(
        lambda x, y: x / y, (1.0 / b.value if known else 0.0, a), (-a.value / b.value**2 if known else 0.0, b)
    )


def in_hand(*quantities: Quantity) -> Truth:
    """Whether all of them are known: one truth value, or a column of them."""
    known: Truth = True
    for quantity in quantities:
        if quantity.missing:
            return False
        if is_column(quantity.value):
            known = known & negation(is_lost(quantity.value))
    return known


def or_else(quantity: Quantity, instead: Quantity) -> Quantity:
    """The quantity, `instead` where it is not known."""
    if quantity.missing:
        return instead
    return pick(negation(is_lost(quantity.value)), quantity, instead)


_NOTHING = Quantity(0.0)


def or_nothing(quantity: Quantity) -> Quantity:
    """The quantity, 0 where it is not known: a dimension that most parts do not have."""
    return or_else(quantity, _NOTHING)


def least(*quantities: Quantity) -> Quantity:
    """The smallest, at a tie the less certain; missing where any of them is, for it cannot be told then."""
    return _outermost(quantities, lambda a, b: a < b)


def greatest(*quantities: Quantity) -> Quantity:
    """The largest, otherwise as `least`."""
    return _outermost(quantities, lambda a, b: a > b)


def _outermost(quantities: tuple[Quantity, ...], beyond: Callable[[Number, Number], Truth]) -> Quantity:
    missing = missing_of(*quantities)
    if missing:
        return Quantity(None, None, missing)
    outermost = quantities[0]
    for other in quantities[1:]:
        a, b = rounded(other.value), rounded(outermost.value)
        takes_over = beyond(a, b) | ((a == b) & (other.half_width > outermost.half_width)) | is_lost(a)
        outermost = pick(takes_over, other, outermost)
    return outermost
