"""The parts of one page of a ranking, each with the single fit check's report and the reasons in words."""

from dataclasses import dataclass, field

from parts.dimensions.in_hand import NOTHING_IN_HAND
from parts.fit import Report, SheetError, check_sheet
from parts.fit.bands import Verdict
from parts.fit.check import check
from parts.fit.records import describe
from parts.fit.sheet import read_sheet
from parts.pairings.page import measure_next
from parts.rules.remedy_minutes import remedy_minutes
from parts.trials.stretches import in_words, stretches


@dataclass(frozen=True, slots=True)
class Line:
    """One part with its report, or with the SheetError that its numbers cause; `reasons` tells it in sentences."""

    record: object
    report: Report | None
    reasons: list = field(default_factory=list)
    error: SheetError | None = None
    notes: list = field(default_factory=list)

    @property
    def minutes(self):
        """Bench minutes that its remedies take beyond the standing work."""
        return bench_minutes(self.report)

    @property
    def counts(self):
        """What it takes in words, such as ["1 to make or buy", "2 to accept"]."""
        kinds = [remedy.kind for _, remedy in self._remedies]
        words_of = (("part", "to make or buy"), ("work", "at the bench"), ("accept", "for the customer to accept"))
        return [f"{kinds.count(kind)} {words}" for kind, words in words_of if kind in kinds]

    @property
    def _remedies(self):
        return self.report.asked_for


def bench_minutes(report):
    """Bench minutes that a report's remedies take beyond the standing work, each thing once."""
    return sum(remedy_minutes(item.key) for item, remedy in report.asked_for if remedy.kind == "work")


def line_of(question, record, hand=NOTHING_IN_HAND):
    """The Line of a record looked for by a Question."""
    try:
        sheet, rules = read_sheet(question.sheet_with(record))
    except SheetError as error:
        return Line(record, None, error=error)
    report = check(sheet, rules, question.parts)
    return Line(record, report, list(_reasons(report, sheet, rules, question.parts, hand)))


def whole_report(question, record):
    """The report on what is given with this record, its open parts included; None where the numbers contradict."""
    try:
        return check_sheet(question.sheet_with(record))
    except SheetError:
        return None


def _reasons(report, sheet, rules, parts, hand):
    """What decides: what stands in the way; what to measure, with the values that would do; or what it takes."""
    deciding = [item for item in report.checks if item.must and item.verdict is report.verdict]
    if report.verdict is Verdict.NO:
        yield from (item.sentence for item in deciding)
    elif report.verdict is Verdict.UNCLEAR:
        missing = {name for item in deciding for name in item.missing}
        coarse = [item for item in deciding if not item.missing]
        for path in (path for path, _ in report.measure_next if path in missing):
            yield _would_go(path, sheet, rules, parts, [item.key for item in coarse])
        yield from (item.sentence for item in coarse)
        closer = [] if missing else measure_next(report, hand)
        if closer:
            yield f"Measure the {closer[0][1]} more closely."
    else:
        for _, remedy in report.asked_for:
            yield f"For the customer to accept: {remedy.text}" if remedy.kind == "accept" else remedy.text


def _would_go(path, sheet, rules, parts, undecided):
    phrase, spec = describe(path).phrase, describe(path).input
    if spec is None:
        return f"Look at the {phrase}."
    values = in_words(path, stretches(sheet, rules, parts, path, besides=undecided)[0])
    if values == "any":
        return f"The {phrase} is not measured; on its own it rules nothing out."
    return f"Would fit if the {phrase} is {values}." if values else f"No {phrase} would make it fit."
