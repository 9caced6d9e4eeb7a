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
        """(first cell, other cells, bench rules) of the rows that the page shows."""
        rules = self.rules or {}
        return [(row[0], row[1:], rules.get(row[0], ())) for row in self.rows[:SHOWN]]

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
        [one.name, str(one.jobs), _hours(one.quoted), _hours(one.took), _ratio(one.ratio), str(one.both)]
        for one in kinds
    ]
    both = sum(one.both for one in kinds)
    over = statistics.overrun(kinds)
    says = f"{_count(sum(one.jobs for one in kinds), 'finished job')}. "
    if over is None:
        says += "No job has both quoted and recorded time yet, so there is nothing to compare."
    else:
        says += f"Hours quoted and spent are compared on the {_count(both, 'job')} that have both: {over:.2f} h spent "
        says += f"for each hour quoted{_little(both)}."
    drawn = [
        (one.name, ((one.quoted / 60, f"{_hours(one.quoted)} h"), (one.took / 60, f"{_hours(one.took)} h")))
        for one in kinds[:_DRAWN]
        if one.both
    ]
    chart = charts.bars(f"Hours by {word.lower()}", _first(kinds), drawn, names=("quoted", "spent"))
    headings = [word, "jobs", "hours quoted", "hours spent", "spent per hour quoted", "jobs compared"]
    return Table(key, title, headings, rows, says, chart if drawn else "")


def _first(rows):
    return f"The first {_DRAWN} of {len(rows)}." if len(rows) > _DRAWN else f"All {len(rows)}."


def _stages(stages):
    rows = [[one.name, _hours(one.minutes), _hours(one.mean), str(one.jobs)] for one in stages]
    rows = rows if any(one.jobs for one in stages) else []
    drawn = [(one.name, ((one.mean / 60, f"{_hours(one.mean)} h"),)) for one in stages if one.jobs]
    most = max((one.jobs for one in stages), default=0)
    says = f"Mean over the jobs with time recorded in the stage, {_count(most, 'job')} at most{_little(most)}."
    chart = charts.bars("Mean hours by stage", says, drawn)
    return Table(
        "stages", "Hours by stage", ["stage", "hours in all", "hours a job", "jobs compared"], rows, says, chart
    )


def _checks(counts, jobs):
    rows = [[one.title, *map(str, (one.no, one.work, one.wrong, one.too_good, one.too_bad))] for one in counts]
    says = (
        f"{_count(jobs, 'closed job')} with a saved report{_little(jobs)}. Wrong in hindsight is what you noted on a "
    )
    says += "job under “How it turned out”; adjust a check by the bench rules below it."
    drawn = [
        (one.title, ((one.no, str(one.no)), (one.wrong, str(one.wrong))))
        for one in counts[:_DRAWN]
        if one.no or one.wrong
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
    rules = {one.title: [(name, rule_words(name)) for name in RULES_OF.get(one.key, ())] for one in counts}
    return Table("checks", "Checks that failed or were wrong", headings, rows, says, chart, rules)


def _turnaround(spans, step):
    rows = [
        [one.name, str(one.jobs), *(f"{days:.1f}" for days in (one.low, one.middle, one.high)),
         "few jobs" if one.few else ""]
        for one in spans
    ]  # fmt: skip
    drawn = [
        (one.name, one.low, one.middle, one.high, f"{one.middle:.0f} days{', few jobs' if one.few else ''}")
        for one in spans[-2 * _DRAWN :]
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
