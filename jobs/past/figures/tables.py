"""The numbers of the shop as tables with their charts, and each table as a CSV file."""

import csv
import io
from dataclasses import dataclass

from jobs.past.figures import charts, statistics
from parts.pairings.worksheet import rule_words
from parts.rules.by_check import RULES_OF
from parts.tools.spreadsheet import guarded

SHOWN = 20
"""Rows of a table on the page; the file has all."""
_DRAWN = 10


@dataclass(frozen=True, slots=True)
class Table:
    """One table: `rows` are lists of cells in words, the first of which names the row; `rules` bench rules by row."""

    key: str
    title: str
    headings: list
    rows: list
    says: str
    chart: str = ""
    rules: dict | None = None

    @property
    def lines(self):
        """(first cell, other cells each with its heading, bench rules) of the rows that the page shows."""
        rules, headings = self.rules or {}, self.headings[1:]
        return [(row[0], list(zip(headings, row[1:], strict=True)), rules.get(row[0], ())) for row in self.rows[:SHOWN]]

    @property
    def more(self):
        return max(0, len(self.rows) - SHOWN)


def all_tables(since, until, step):
    """The tables of these days, with turnaround by "month", "quarter" or "year"."""
    past = statistics.finished(since, until)
    return [
        _kinds("families", "Conversions by case family", "Case family", statistics.by_kind(past, "family")),
        _kinds("movements", "Conversions by movement", "Movement", statistics.by_kind(past, "movement")),
        _stages(statistics.by_stage(past)),
        _checks(*statistics.checks(since, until)),
        _turnaround(statistics.turnaround(past, step), step),
    ]


def as_csv(table):
    """The table's text as a CSV file; what a spreadsheet would take for a formula gets a ' in front."""
    out = io.StringIO(newline="")
    csv.writer(out).writerows([guarded(cell) for cell in row] for row in [table.headings, *table.rows])
    return out.getvalue()


def _kinds(key, title, word, kinds):
    rows = [
        [kind.name, str(kind.jobs), _hours(kind.quoted), _hours(kind.took), _ratio(kind.ratio), str(kind.both)]
        for kind in kinds
    ]
    both = sum(kind.both for kind in kinds)
    over = statistics.overrun(kinds)
    says = f"{_count(sum(kind.jobs for kind in kinds), 'finished job')}. "
    if over is None:
        says += "No job has both quoted and recorded time yet, so there is nothing to compare."
    else:
        says += f"Hours quoted and spent are compared on the {_count(both, 'job')} that have both: {over:.2f} h spent "
        says += f"for each hour quoted{_little(both)}."
    drawn = [
        (kind.name, ((kind.quoted / 60, f"{_hours(kind.quoted)} h"), (kind.took / 60, f"{_hours(kind.took)} h")))
        for kind in kinds[:_DRAWN]
        if kind.both
    ]
    chart = charts.bars(f"Hours by {word.lower()}", _first(kinds), drawn, names=("quoted", "spent"))
    headings = [word, "jobs", "hours quoted", "hours spent", "spent per hour quoted", "jobs compared"]
    return Table(key, title, headings, rows, says, chart if drawn else "")


def _first(rows):
    return f"The first {_DRAWN} of {len(rows)}." if len(rows) > _DRAWN else f"All {len(rows)}."


def _stages(stages):
    rows = [[stage.name, _hours(stage.minutes), _hours(stage.mean), str(stage.jobs)] for stage in stages]
    rows = rows if any(stage.jobs for stage in stages) else []
    drawn = [(stage.name, ((stage.mean / 60, f"{_hours(stage.mean)} h"),)) for stage in stages if stage.jobs]
    most = max((stage.jobs for stage in stages), default=0)
    says = f"Mean over the jobs with time recorded in the stage, {_count(most, 'job')} at most{_little(most)}."
    chart = charts.bars("Mean hours by stage", says, drawn)
    return Table(
        "stages", "Hours by stage", ["stage", "hours in all", "hours a job", "jobs compared"], rows, says, chart
    )


def _checks(counts, jobs):
    rows = [
        [count.title, *map(str, (count.no, count.work, count.wrong, count.too_good, count.too_bad))] for count in counts
    ]
    says = (
        f"{_count(jobs, 'closed job')} with a saved report{_little(jobs)}. Wrong in hindsight is what you noted on a "
    )
    says += "job under “How it turned out”; adjust a check by the bench rules below it."
    drawn = [
        (count.title, ((count.no, str(count.no)), (count.wrong, str(count.wrong))))
        for count in counts[:_DRAWN]
        if count.no or count.wrong
    ]
    chart = charts.bars("Checks", _first(counts), drawn, names=("said no", "wrong in hindsight")) if drawn else ""
    headings = [
        "check",
        "said no",
        "asked for work",
        "wrong in hindsight",
        "bench: worse",
        "bench: better",
    ]
    rules = {count.title: [(name, rule_words(name)) for name in RULES_OF.get(count.key, ())] for count in counts}
    return Table("checks", "Checks that failed or were wrong", headings, rows, says, chart, rules)


def _turnaround(spans, step):
    rows = [
        [span.name, str(span.jobs), *(f"{days:.1f}" for days in (span.low, span.middle, span.high)),
         "few jobs" if span.few else ""]
        for span in spans
    ]  # fmt: skip
    drawn = [
        (span.name, span.low, span.middle, span.high, f"{span.middle:.0f} days{', few jobs' if span.few else ''}")
        for span in spans[-2 * _DRAWN :]
    ]
    says = "Days from logging to closing: the middle half of the jobs is between the quartiles, half of them took "
    says += "less than the median."
    chart = charts.ranges(f"Turnaround by {step}", f"Quartiles and median in days, {_first(spans).lower()}", drawn)
    headings = [step, "jobs", "lower quartile, days", "median, days", "upper quartile, days", "note"]
    return Table("turnaround", "Turnaround", headings, rows, says, chart)


def _hours(minutes):
    return "" if minutes is None else f"{minutes / 60:.1f}"


def _ratio(ratio):
    return "" if ratio is None else f"{ratio:.2f}"


def _count(number, word):
    return f"{number:,} {word}{'' if number == 1 else 's'}"


def _little(jobs):
    return "; too few to say much" if 0 < jobs < statistics.FEW else ""
