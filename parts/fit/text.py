"""The report as plain text for a terminal or a letter; `paint(verdict, text)` may colour a verdict."""

from .numbers import with_unit
from .records import describe
from .verdicts import Verdict

WORDS = {
    Verdict.FITS: "fits",
    Verdict.WORK: "fits with work",
    Verdict.UNCLEAR: "unclear",
    Verdict.NO: "does not fit",
}


def report_text(report, paint=lambda verdict, text: text):
    """The whole report, a line a check, lengths in mm."""
    return "\n".join(_lines(report, paint)) + "\n"


def _lines(report, paint):
    yield paint(report.verdict, f"{WORDS[report.verdict].upper()}") + f"  {report.why}"
    for number, (name, keys) in enumerate(report.measure_next[:5]):
        lead = "Measure next:" if not number else "         then:"
        yield f"{lead} {describe(name).phrase} (decides {', '.join(keys)})"
    for subject, checks in report.by_subject():
        yield ""
        yield subject
        for item in checks:
            yield _check_line(item, paint)
            yield f"      {item.sentence}"
            for remedy in item.remedies:
                yield f"      {remedy.kind}: {remedy.text}"
    yield ""
    yield from _numbers(report)


def _check_line(item, paint):
    told = "not measured"
    if item.value.known:
        told = with_unit(item.value.value, item.unit)
        if item.value.half_width:
            told += f" ({with_unit(item.low, item.unit)} to {with_unit(item.high, item.unit)})"
    advice = "" if item.must else ", advice"
    return f"  {paint(item.verdict, f'{WORDS[item.verdict]:<14}')} {item.key + advice:<28} {told}"


def _numbers(report):
    p = report.pairing
    thickness = p.stack.thickness
    if thickness:
        yield f"Spacer        {with_unit(thickness, 'mm')}, {'in front of' if p.stack.placement == 'front' else 'behind'} the dial"
    else:
        yield "Spacer        " + ("none" if thickness == 0 else "not known")
    for name, seat in p.seating.seats.items():
        height = with_unit(report.height_above_dial(name), "mm")
        yield f"{name.capitalize() + ' hand':<13} top {height} above the dial, left {with_unit(seat.lift, 'mm')} above flush"
    if p.seating.why:
        yield f"Seating       {p.seating.why}"
    stem = report.stem
    cut = f", {with_unit(stem.cut_off, 'mm')} to cut off" if stem.cut_off and stem.cut_off > 0 else ""
    yield f"Stem          {with_unit(stem.length, 'mm')}{cut}"
    for step in stem.steps:
        yield f"              {with_unit(step.length, 'mm')}  {step.text}"
    if stem.disagreement is not None:
        yield f"              the gap under the crown says {with_unit(stem.gap_cut_off, 'mm')}: {with_unit(abs(stem.disagreement), 'mm')} apart"
    for mark in report.foot_marks:
        taken = f"takes foot {mark.foot + 1}" if mark.foot is not None else "takes no foot"
        yield f"Foot hole     {mark.angle:.1f}°, minute {mark.minute:.2f}, radius {with_unit(mark.radius, 'mm')}; {taken}"
