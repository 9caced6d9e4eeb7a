"""Pairings side by side: their parts, their verdicts, and check by check what differs."""

from dataclasses import dataclass

from parts.fit.bands import Verdict
from parts.fit.units import with_unit
from parts.models.pairing import PARTS
from parts.pairings.answer import answer
from parts.pairings.look import looks_of
from parts.pairings.page import changed_numbers
from parts.pairings.worksheet import part_word


@dataclass(frozen=True, slots=True)
class Line:
    """One row of the comparison; a check's cell is (verdict, number), None where it does not apply.

    The verdict is empty where the check waits for a part; then the words say for which.

    Of a check only a different verdict counts as a difference: its numbers hardly ever agree. One that does not apply
    asks for nothing, as one that fits.
    """

    title: str
    cells: list
    names: list
    is_check: bool = False

    @property
    def named(self):
        """The cells with the names of their fit checks."""
        return list(zip(self.names, self.cells, strict=True))

    @property
    def differs(self):
        deciding = [(cell and cell[0]) or Verdict.FITS for cell in self.cells] if self.is_check else self.cells
        return any(cell != deciding[0] for cell in deciding)


@dataclass(frozen=True, slots=True)
class Group:
    """Lines under a heading; those that are the `same` are folded."""

    title: str
    lines: list
    same: bool = False


@dataclass(frozen=True, slots=True)
class Comparison:
    pairings: list
    answers: list
    parts: list
    numbers: list
    checks: list

    @property
    def columns(self):
        """Each fit check with its answer."""
        return list(zip(self.pairings, self.answers, strict=True))

    @property
    def looks(self):
        """How each will look, beside its name; none where nothing of any is known."""
        looks = [
            (pairing, answered.report and looks_of(pairing=pairing, report=answered.report, mark=f"-{number}").dial)
            for number, (pairing, answered) in enumerate(self.columns)
        ]
        return looks if any(look for _, look in looks) else []

    @property
    def groups(self):
        """What differs first, by kind; what is the same is folded below it."""
        kinds = {"Parts": self.parts, "Numbers for the bench": self.numbers, "Checks": self.checks}
        groups = [
            Group(f"{kind} that differ", lines) for kind, all_lines in kinds.items() if (lines := _apart(all_lines))
        ]
        same = {"parts": self.parts, "numbers for the bench": self.numbers, "checks with the same verdict": self.checks}
        for kind, all_lines in same.items():
            if lines := [line for line in all_lines if not line.differs]:
                groups.append(Group(kind if "checks" in kind else f"{kind} that are the same", lines, same=True))
        return groups


def _apart(lines):
    return [line for line in lines if line.differs]


def compare(pairings):
    """The comparison of pairings whose parts were fetched with them."""
    answers = [answer(pairing) for pairing in pairings]
    reports = [answered.report for answered in answers]
    names = [str(pairing) for pairing in pairings]
    parts = [*_parts(pairings, names), _changes(pairings, answers, names)]
    return Comparison(pairings, answers, parts, _numbers(reports, names), _checks(reports, names))


def _parts(pairings, names):
    cells = {name: [_part(pairing, name) or "not chosen" for pairing in pairings] for name in PARTS}
    return [Line(part_word(name).capitalize(), chosen, names) for name, chosen in cells.items()]


def _part(pairing, name):
    return pairing.hands_in_words if name == "hands" else str(getattr(pairing, name) or "")


def _changes(pairings, answers, names):
    texts = ["; ".join(changed_numbers(answered, p)) for p, answered in zip(pairings, answers, strict=True)]
    return Line("Changed numbers", [text or "none" for text in texts], names)


def _numbers(reports, names):
    rows = {
        "Spacer": lambda r: _spacer(r.pairing.stack),
        "Stem length L": lambda r: _length(r.stem.length),
        "Hour hand above dial": lambda r: _length(r.height_above_dial("hour")),
        "Minute hand above dial": lambda r: _length(r.height_above_dial("minute")),
        "Seconds hand above dial": _seconds,
    }
    return [
        Line(title, [tell(report) if report else "no report" for report in reports], names)
        for title, tell in rows.items()
    ]


def _length(value):
    return "not known yet" if value is None else with_unit(value, "mm")


def _seconds(report):
    return _length(report.height_above_dial("seconds")) if "seconds" in report.pairing.seating.seats else "no such hand"


def _spacer(stack):
    if not stack.thickness:
        return "none" if stack.thickness == 0 else "not known yet"
    return f"{with_unit(stack.thickness, 'mm')} {stack.where}"


def _checks(reports, names):
    by_key = [{item.key: item for item in (*report.checks, *report.waits)} if report else {} for report in reports]
    titles = {key: item.title for items in by_key for key, item in items.items()}
    lines = (
        Line(title, [_cell(items.get(key)) for items in by_key], names, is_check=True) for key, title in titles.items()
    )
    return sorted(lines, key=lambda line: -max(_rank(cell) for cell in line.cells))


def _rank(cell):
    return Verdict(cell[0]).rank if cell and cell[0] else -1


def _cell(item):
    if item is None:
        return None
    if item.waits_for:
        return "", item.sentence
    return str(item.verdict), with_unit(item.value.value, item.unit)
