"""Arithmetic that reads the same for one number and for a column of them.

A column is an array after the Python array API standard (array-api 2023.12), one number a pairing, NaN where a
dimension is not measured: the check of a whole library runs the formulas of the single check on columns. One number
takes the plain way through; this module imports no array library.
"""

import math
from collections.abc import Callable
from typing import Any, TypeAlias, TypeVar

Number: TypeAlias = float | Any
"""A number, or a column of them. A column's own type is left open, since this room knows no array library: what is
written for one number is checked as such, and the tests hold a column against it row by row."""
Truth: TypeAlias = bool | Any
"""A truth value, or a column of them."""
Choice = TypeVar("Choice")


_SINGLE = (float, int, bool)
"""What a single number or truth value mostly is, told without a look for an array's methods."""


def is_column(value: object) -> bool:
    """Whether this is a column rather than one number or truth value."""
    return type(value) not in _SINGLE and hasattr(value, "__array_namespace__")


_LIBRARIES: dict[type, Any] = {}
"""The array library of each kind of column met so far: asking a column costs more than many a sum of it."""


def _of(value: Any, other: Any = None) -> Any:
    """The array library of a column, or of the other value where this is none."""
    column = value if is_column(value) else other
    kind = type(column)
    if kind not in _LIBRARIES:
        _LIBRARIES[kind] = column.__array_namespace__()
    return _LIBRARIES[kind]


def pick(condition: Truth, yes: Choice, no: Choice) -> Choice:
    """`yes` where the condition holds, `no` elsewhere; for numbers, quantities and checks (which know how to `mix`)."""
    if condition is True:
        return yes
    if condition is False:
        return no
    if not is_column(condition):
        return yes if condition else no
    mix = getattr(yes, "mix", None)
    mixed: Choice = mix(condition, no) if mix else _of(condition).where(condition, yes, no)
    return mixed


def lower(a: Number, b: Number) -> Number:
    """The smaller of two numbers, not a number where one of them is none."""
    if is_column(a) or is_column(b):
        return _of(a, b).minimum(a, b)
    return min(b, a)


def upper(a: Number, b: Number) -> Number:
    """The larger of two numbers, otherwise as `lower`."""
    if is_column(a) or is_column(b):
        return _of(a, b).maximum(a, b)
    return max(b, a)


def known_or(value: Any, instead: float) -> Number:
    """The value, or `instead` where it is not measured."""
    if not is_column(value):
        return value
    space = _of(value)
    known: Number = space.where(space.isnan(value), instead, value)
    return known


def largest(value: Number) -> float:
    """The largest number of a column."""
    return float(_of(value).max(value)) if is_column(value) else value


def on_rows(value: Any, rows: Truth) -> Number:
    """The rows of a column for which the truth column holds; one number stays as it is."""
    return value[rows] if is_column(value) and is_column(rows) else value


def in_rows(value: Any, rows: Truth, elsewhere: float = 0.0) -> Number:
    """A column as long as the truth column, with the values where it holds; as it is where the rows are no column."""
    if not is_column(rows):
        return value
    column: Any = pick(rows, elsewhere, elsewhere) + 0.0
    column[rows] = value
    return column


_AT_ONCE = 100_000
"""Rows that a formula is asked for at once."""


def at_each(formula: Callable[[Number, Number], Number], places: list[tuple[Number, Number]]) -> list[Number]:
    """The formula of each place; short columns are joined to a long one, since many short ones take longer."""
    x: Any = places[0][0]
    if not is_column(x):
        return [formula(*place) for place in places]
    join, long = _of(x).concat, x.shape[0]
    few = max(1, _AT_ONCE // max(1, long))
    if len(places) > few:
        return at_each(formula, places[:few]) + at_each(formula, places[few:])
    values: Any = formula(*(join(each) for each in zip(*places, strict=True)))
    return [values[i * long : (i + 1) * long] for i in range(len(places))]


def between(low: Number, value: Number, high: Number) -> Number:
    """The value, brought inside low to high."""
    return upper(low, lower(value, high))


def is_lost(value: Number) -> Truth:
    """Where a number of a column is not measured; one number in hand never is."""
    return _of(value).isnan(value) if is_column(value) else False


def negation(condition: Truth) -> Truth:
    return ~condition if is_column(condition) else not condition


def somewhere(condition: Truth) -> bool:
    """Whether a condition holds for any row."""
    return bool(_of(condition).any(condition)) if is_column(condition) else bool(condition)


def nearest(value: Number) -> Number:
    """The nearest whole number, halves to the even one."""
    return _of(value).round(value) if is_column(value) else round(value)


def rounded(value: Number) -> Number:
    """The value to nine decimals, so that what differs by arithmetic alone is equal."""
    return _of(value).round(value * 1e9) / 1e9 if is_column(value) else round(value, 9)


def root(value: Number) -> Number:
    return _of(value).sqrt(value) if is_column(value) else math.sqrt(value)


def sine(angle: Number) -> Number:
    """Of an angle in radians."""
    return _of(angle).sin(angle) if is_column(angle) else math.sin(angle)


def cosine(angle: Number) -> Number:
    """Of an angle in radians."""
    return _of(angle).cos(angle) if is_column(angle) else math.cos(angle)


def hypotenuse(x: Number, y: Number) -> Number:
    return _of(x, y).hypot(x, y) if is_column(x) or is_column(y) else math.hypot(x, y)
