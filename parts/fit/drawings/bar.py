"""A check's value on its number line: bands, interval (thick) and nominal value (mark), with the limits below."""

from collections.abc import Callable, Iterator
from math import isfinite

from parts.fit.drawings.svg import SVG, el, line, path, rect, text
from parts.fit.verdicts import Check

_WIDTH, _HEIGHT = 240.0, 44.0
_DECIMALS = {"mm": 2, "deg": 1, "uN·m": 2, "months": 0, "share": 0, "count": 0}
_BAND_HEIGHT = {"fits": 14.0, "work": 10.0, "unclear": 8.0, "no": 6.0}
"""Bands differ in height as well as in colour: the better, the taller; one may wait for a number."""


def bar_svg(check: Check) -> str:
    """The bar of one check, 240 x 44 units; empty where there is no value or nothing to weigh it by.

    It is for the eye alone: value, interval and sentence stand beside it.
    """
    edges = [band.high for band in check.bands if isfinite(band.high)]
    if not check.value.known or not edges:
        return ""
    low, high = _span(check, edges)

    def at(value: float) -> float:
        return 6 + (_WIDTH - 12) * (min(max(value, low), high) - low) / (high - low)

    middle = 14.0
    parts = []
    for band in check.bands:
        half = _BAND_HEIGHT[band.verdict] / 2
        parts.append(rect(at(band.low), middle - half, at(band.high), middle + half, class_=str(band.verdict)))
    start, end = _ends(check)
    parts.append(line(at(start), middle, at(end), middle, class_="span"))
    x = at(check.value.value)
    parts.append(path("M", x, middle - 1, "l", -4.5, -11, 9, 0, "Z", class_="value-mark"))
    parts += _limits(edges, at, check.unit)
    view = f"0 0 {_WIDTH:g} {_HEIGHT:g}"
    return el("svg", *parts, xmlns=SVG, viewBox=view, aria_hidden="true", class_="bar")


def _span(check: Check, edges: list[float]) -> tuple[float, float]:
    ends = [*edges, check.value.value, *(end for end in _ends(check) if isfinite(end))]
    margin = 0.18 * (max(ends) - min(ends)) or 1.0
    return min(ends) - margin, max(ends) + margin


def _ends(check: Check) -> tuple[float, float]:
    """The interval's ends; those of the value itself while the check waits for something else."""
    if check.low is None or check.high is None:
        return check.value.low, check.value.high
    return check.low, check.high


def _limit(edge: float, unit: str) -> str:
    """A limit as its check's number is told, with as many more decimals as it takes not to change it.

    What lies off a number by no more than a comparison's slack is that number.
    """
    number = round(100 * edge if unit == "share" else edge, 6)
    decimals = next((n for n in range(_DECIMALS[unit], 4) if abs(round(number, n) - number) < 1e-9), 4)
    return f"{number:.{decimals}f}" + (" %" if unit == "share" else "")


def _limits(edges: list[float], at: Callable[[float], float], unit: str) -> Iterator[str]:
    """The limits below the line; one that would cover its neighbour is left out."""
    last = -100.0
    for edge in edges:
        x, words = at(edge), _limit(edge, unit)
        if x - last > 7.0 * len(words):
            yield text(min(max(x, 14), _WIDTH - 14), 38, words, anchor="middle")
            last = x
        yield line(x, 21, x, 26, class_="limit")
