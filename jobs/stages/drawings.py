"""The drawing that belongs to a stage, as the fit check has it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from django.utils.safestring import SafeString, mark_safe

from parts.fit.drawings import dial_svg, foot_marks_svg, section_half_svg, stack_svg, window_svg
from parts.fit.drawings.foot_template import not_measured
from parts.fit.drawings.stem import stem_svg
from parts.fit.units import with_unit
from parts.pairings.page import hand_heights

if TYPE_CHECKING:
    from parts.fit import Report


@dataclass(frozen=True, slots=True)
class StageDrawing:
    """A drawing with its title; `numbers` stand under it, as pairs of what they are of and the number with its unit."""

    title: str
    drawn: SafeString
    numbers: tuple[tuple[str, str], ...] = ()


def drawing_of(kind: str, report: Report | None) -> StageDrawing | None:
    """The drawing of a stage (its kind's word); None where there is none, or too little of it is measured."""
    made = _DRAWINGS[kind](report) if report and kind in _DRAWINGS else None
    return made if made and made.drawn else None


def _drawn(title, markup, **more):
    return StageDrawing(title, mark_safe(markup), **more)


def _section(report):
    return _drawn("Section along the stem, the half with the crown", section_half_svg(report))


def _dial(report):
    if report.foot_marks and not not_measured(report):
        numbers = (
            (f"hole {i}", f"{mark.minute:.2f} min, r {mark.radius:.2f} mm")
            for i, mark in enumerate(report.foot_marks, 1)
        )
        return _drawn("Foot template, the dial from behind", foot_marks_svg(report), numbers=tuple(numbers))
    window = window_svg(report)
    return _drawn("The date as it will show", window) if window else _front(report)


def _front(report):
    return _drawn("The dial from the front", dial_svg(report))


def _hands(report):
    heights = ((each["name"], each["height"]) for each in hand_heights(report) if each["height"] is not None)
    numbers = tuple((name, with_unit(height, "mm")) for name, height in heights)
    title = "Hands, close up; tops above the dial" if numbers else "Hands, close up"
    return _drawn(title, stack_svg(report), numbers=numbers)


def _stem(report):
    return _drawn("Where L is measured", stem_svg(report))


_DRAWINGS = {
    "teardown": _section,
    "holder": _section,
    "dial": _dial,
    "hands": _hands,
    "stem": _stem,
    "handover": _front,
}
