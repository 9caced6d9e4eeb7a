"""The report as plain text for a terminal or a letter; `paint(verdict, text)` may colour a verdict."""

from collections.abc import Callable, Iterator
from typing import TypeAlias

from parts.fit.answer.report import Report
from parts.fit.bands import Verdict
from parts.fit.pairing import Stack
from parts.fit.pressure import under_pressure
from parts.fit.records import describe
from parts.fit.units import with_unit
from parts.fit.verdicts import Check, part_in_words

Paint: TypeAlias = Callable[[Verdict, str], str]
WORDS = {
    Verdict.FITS: "fits",
    Verdict.WORK: "fits with work",
    Verdict.UNCLEAR: "unclear",
    Verdict.NO: "does not fit",
}


def report_text(report: Report, paint: Paint = lambda _verdict, text: text) -> str:
    """The whole report, a line a check, lengths in mm."""
    return "\n".join(_lines(report, paint)) + "\n"


def _lines(report: Report, paint: Paint) -> Iterator[str]:
    if report.has_verdict:
        so_far = " SO FAR" if report.waiting else ""
        yield paint(report.verdict, f"{WORDS[report.verdict].upper()}{so_far}") + f"  {report.why}"
    if report.waiting:
        yield f"Not chosen yet: {', '.join(part_in_words(name).removeprefix('the ') for name in report.waiting)}."
    for way in report.would_go[:5]:
        yield way.words
    if report.chance is not None and report.verdict is not Verdict.UNCLEAR:
        yield report.chance_words
    for doubt in report.doubts:
        yield doubt.sentence
    for number, (name, keys) in enumerate(report.measure_next[:5]):
        lead = "Measure next:" if not number else "         then:"
        yield f"{lead} {describe(name).phrase} (settles {', '.join(keys)})"
    pressed = under_pressure(report.pairing)
    for subject, checks in [*report.by_subject(), *([(pressed[0].subject, pressed)] if pressed else [])]:
        yield ""
        yield subject
        for item in checks:
            yield _check_line(item, paint)
            yield f"      {item.sentence}"
            for remedy in item.remedies:
                yield f"      {remedy.kind}: {remedy.text}"
    if report.waits:
        yield ""
        yield f"Waiting for a part: {', '.join(item.key for item in report.waits)}"
    yield ""
    yield from _numbers(report)


def _check_line(item: Check, paint: Paint) -> str:
    number = "not measured"
    if item.value.known:
        number = item.bound + with_unit(item.value.value, item.unit)
        if item.low is not None and item.high is not None and item.low != item.high and not item.bound:
            number += f" ({with_unit(item.low, item.unit)} to {with_unit(item.high, item.unit)})"
    advice = "" if item.must else ", advisory"
    return f"  {paint(item.verdict, f'{WORDS[item.verdict]:<14}')} {item.key + advice:<28} {number}"


def _numbers(report: Report) -> Iterator[str]:
    p = report.pairing
    yield f"{'Spacer':<13} {_spacer(p.stack)}"
    for name, seat in p.seating.seats.items():
        height = _mm(report.height_above_dial(name))
        yield f"{name.capitalize() + ' hand':<13} top {height} above the dial, left {_mm(seat.lift)} above flush"
    if p.seating.why:
        yield f"{'Seating':<13} {p.seating.why}"
    stem = report.stem
    cut = f", {_mm(stem.cut_off)} to cut off" if stem.cut_off and stem.cut_off > 0 else ""
    yield f"{'Stem':<13} {_mm(stem.length)}{cut}"
    for step in stem.steps:
        yield f"{'':<13} {_mm(step.length)}  {step.text}"
    if stem.disagreement is not None:
        apart = _mm(abs(stem.disagreement))
        yield f"{'':<13} by the gap under the crown, {_mm(stem.gap_cut_off)} to cut off: {apart} apart"
    for mark in report.foot_marks:
        place = f"{mark.angle:.1f}°, minute {mark.minute:.2f}, radius {_mm(mark.radius)}"
        yield f"{'Foot hole':<13} {place}; {f'foot {mark.foot + 1}' if mark.foot is not None else 'no foot'}"


def _spacer(stack: Stack) -> str:
    if not stack.thickness:
        return "none" if stack.thickness == 0 else "not known"
    return f"{_mm(stack.thickness)}, {stack.where}"


def _mm(value: float | None) -> str:
    return with_unit(value, "mm")
