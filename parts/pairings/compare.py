"""Pairings side by side: their parts, their verdicts, and check by check what differs."""

from dataclasses import dataclass

from parts.fit.units import with_unit
from parts.models.pairing import PARTS
from parts.pairings.answer import answer
from parts.pairings.page import changed_numbers
from parts.pairings.worksheet import part_word


@dataclass(frozen=True, slots=True)
class Line:
    """One row of the comparison; a check's cell is (verdict, number), None where it does not apply.

    Of a check only a different verdict counts as a difference: its numbers hardly ever agree.
    """

    title: str
    cells: list

    @property
    def differs(self):
        deciding = [cell[0] if isinstance(cell, tuple) else cell for cell in self.cells]
        return any(cell != deciding[0] for cell in deciding)


@dataclass(frozen=True, slots=True)
class Comparison:
    pairings: list
    answers: list
    parts: list
    numbers: list
    checks: list

    @property
    def undecided(self):
        """Whether the overall verdicts differ."""
        return len({str(answered.report.verdict) if answered.report else None for answered in self.answers}) > 1


def compare(pairings):
    """The comparison of pairings whose parts were fetched with them."""
    answers = [answer(pairing) for pairing in pairings]
    reports = [answered.report for answered in answers]
    parts = [*_parts(pairings), _changes(pairings, answers)]
    return Comparison(pairings, answers, parts, _numbers(reports), _checks(reports))


def _parts(pairings):
    return [Line(part_word(name).capitalize(), [_part(p, name) or "not chosen" for p in pairings]) for name in PARTS]


def _part(pairing, name):
    return pairing.hands_in_words if name == "hands" else str(getattr(pairing, name) or "")


def _changes(pairings, answers):
    texts = ["; ".join(changed_numbers(answered, p)) for p, answered in zip(pairings, answers, strict=True)]
    return Line("Changed numbers", [text or "none" for text in texts])


def _numbers(reports):
    rows = {
        "Spacer": lambda r: _spacer(r.pairing.stack),
        "Stem length L": lambda r: _length(r.stem.length),
        "Hour hand above dial": lambda r: _length(r.height_above_dial("hour")),
        "Minute hand above dial": lambda r: _length(r.height_above_dial("minute")),
        "Seconds hand above dial": _seconds,
    }
    return [
        Line(title, [tell(report) if report else "no report" for report in reports]) for title, tell in rows.items()
    ]


def _length(value):
    return "not known yet" if value is None else with_unit(value, "mm")


def _seconds(report):
    return _length(report.height_above_dial("seconds")) if "seconds" in report.pairing.seating.seats else "no such hand"


def _spacer(stack):
    if not stack.thickness:
        return "none" if stack.thickness == 0 else "not known yet"
    return f"{with_unit(stack.thickness, 'mm')} {'in front of' if stack.placement == 'front' else 'behind'} the dial"


def _checks(reports):
    by_key = [{item.key: item for item in report.checks} if report else {} for report in reports]
    titles = {key: item.title for items in by_key for key, item in items.items()}
    return [Line(title, [_cell(items.get(key)) for items in by_key]) for key, title in titles.items()]


def _cell(item):
    if item is None:
        return None
    return str(item.verdict), with_unit(item.value.value, item.unit)
