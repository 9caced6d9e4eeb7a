"""Arithmetic that reads the same for one number and for a column of them.

A column is an array after the Python array API standard (array-api 2023.12), one number a pairing, NaN where a
dimension is not measured: the check of a whole library runs the formulas of the single check on columns. One number
takes the plain way through; this module imports no array library.
"""

import math


def is_column(value):
    """Whether this is a column rather than one number or truth value."""
    return not isinstance(value, (float, int)) and hasattr(value, "__array_namespace__")


def _of(*values):
    """The array library of the first column among them."""
    return next(value.__array_namespace__() for value in values if is_column(value))


def pick(condition, yes, no):
    """`yes` where the condition holds, `no` elsewhere; for numbers, quantities and checks (which know how to `mix`)."""
    if not is_column(condition):
        return yes if condition else no
    mix = getattr(yes, "mix", None)
    return mix(condition, no) if mix else _of(condition).where(condition, yes, no)


def lower(a, b):
    """The smaller of two numbers, not a number where one of them is none."""
    if is_column(a) or is_column(b):
        return _of(a, b).minimum(a, b)
    return min(b, a)


def upper(a, b):
    """The larger of two numbers, otherwise as `lower`."""
    if is_column(a) or is_column(b):
        return _of(a, b).maximum(a, b)
    return max(b, a)


def between(low, value, high):
    """The value, brought inside low to high."""
    return upper(low, lower(value, high))


def is_lost(value):
    """Where a number of a column is not measured; one number in hand never is."""
    return _of(value).isnan(value) if is_column(value) else False


def negation(condition):
    return ~condition if is_column(condition) else not condition


def somewhere(condition):
    """Whether a condition holds for any row."""
    return bool(_of(condition).any(condition)) if is_column(condition) else bool(condition)


def nearest(value):
    """The nearest whole number, halves to the even one."""
    return _of(value).round(value) if is_column(value) else round(value)


def rounded(value):
    """The value to nine decimals, so that what differs by arithmetic alone is equal."""
    return _of(value).round(value * 1e9) / 1e9 if is_column(value) else round(value, 9)


def root(value):
    return _of(value).sqrt(value) if is_column(value) else math.sqrt(value)


def sine(angle):
    """Of an angle in radians."""
    return _of(angle).sin(angle) if is_column(angle) else math.sin(angle)


def cosine(angle):
    """Of an angle in radians."""
    return _of(angle).cos(angle) if is_column(angle) else math.cos(angle)


def hypotenuse(x, y):
    return _of(x, y).hypot(x, y) if is_column(x) or is_column(y) else math.hypot(x, y)
