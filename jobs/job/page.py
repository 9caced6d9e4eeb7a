"""What the page of a job shows."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from jobs import luminous, stock
from jobs.models import Job, Option, PaperOut, Shop, Stage
from jobs.options.choosing import all_options
from jobs.options.forms import BeginForm, OptionForm
from jobs.past.outcome import outcome_of
from jobs.stages.checklist import items_of
from jobs.stages.progress import ORDER, blockers, may_start
from jobs.stages.work_time import minutes_of
from jobs.timing import timing_runs
from parts.library.notes import notes_for
from parts.pairings.answer import answer, changes_since
from parts.rules.shop import shop_rules

if TYPE_CHECKING:
    from parts.fit import Report

SHOWN = 60
"""Entries of the history on a page; the whole of it has a page of its own."""


@dataclass(frozen=True, slots=True)
class StageLine:
    """A stage in the job's list: how much of its checklist is ticked and how long it took."""

    stage: object
    ticked: int
    items: int
    minutes: float
    is_next: bool
    timer_runs: bool


@dataclass(frozen=True, slots=True)
class OptionLine:
    """An option with its verdict now and what changed since its report was last kept."""

    option: Option
    report: Report | None
    changed: list[str]


def job_context(*, job: Job) -> dict[str, Any]:
    """The context of the job's page, in a number of queries that does not grow with its options, runs and photos."""
    shop, options = Shop.current(), all_options(job)
    lines = option_lines(options=options)
    chosen = next((line for line in lines if line.option.chosen), None)
    pairing, report = (chosen.option.pairing, chosen.report) if chosen else (None, None)
    runs, photos = timing_runs.runs_of(job), list(job.photos.all())
    judged_by = timing_runs.terms(shop=shop, movement=pairing and pairing.movement)
    return {
        "job": job,
        "stage_lines": stage_lines(job=job, report=report),
        "options": lines,
        "weighed": [line for line in lines if not line.option.ruled_out],
        "option_form": OptionForm(job=job),
        "begin_form": BeginForm(job=job),
        "chosen": chosen and chosen.option,
        "drawer": stock.drawer_of(job, pairing) if pairing else [],
        "report": report,
        "blocked": luminous.is_blocked(job),
        "cautions": luminous.CAUTIONS,
        "may_start": may_start(job),
        "clearances": job.clearances.select_related("by"),
        "go_aheads": job.go_aheads.select_related("by"),
        "conditions": job.conditions.all(),
        "outcome": outcome_of(job),
        "notes": notes_for([job.case_family, pairing and pairing.movement]),
        "hindsights": job.hindsights.exclude(found=""),
        "photos": [photo for photo in photos if not photo.archived],
        "photos_away": [photo for photo in photos if photo.archived],
        "timing": timing_runs.verdict_among(runs, judged_by),
        "runs": runs,
        "events": job.events.select_related("by")[:SHOWN],
        "currency": shop.currency,
        "quotes": job.quotes.all(),
        "orders": job.orders.all(),
        "papers": job.papers.all()[:8],
        "paper_kinds": [choice for choice in PaperOut.Kind.choices if choice[0] != "quote"],
        "waits": Job.WaitsFor.choices,
    }


def stage_lines(*, job: Job, report: Report | None) -> list[StageLine]:
    """The job's stages in their order."""
    stages = {stage.kind: stage for stage in job.stages.prefetch_related("ticks", "work_times")}
    lines = []
    for kind in ORDER:
        stage = stages[kind]
        keys = {tick.key for tick in stage.ticks.all()}
        items = items_of(kind, report, job)
        times = [time for time in stage.work_times.all() if not time.undone]
        ticked, runs = sum(item.key in keys for item in items), any(time.ended is None for time in times)
        lines.append(StageLine(stage, ticked, len(items), minutes_of(times), kind == job.stage, runs))
    return lines


def option_lines(*, options: Iterable[Option]) -> list[OptionLine]:
    """A line for each option, in their order."""
    rules = shop_rules()
    lines = []
    for option in options:
        report = answer(option.pairing, rules).report
        saved = next(iter(option.reports.all()), None)
        lines.append(OptionLine(option, report, changes_since(saved.report if saved else None, report)))
    return lines


def stage_context(*, stage: Stage, report: Report | None) -> dict[str, Any]:
    """What a stage's page shows beside its forms."""
    ticked = {tick.key: tick for tick in stage.ticks.select_related("by")}
    items = [(item, ticked.get(item.key)) for item in items_of(stage.kind, report, stage.job)]
    times = list(stage.work_times.select_related("by"))
    place = ORDER.index(stage.kind)
    return {
        "job": stage.job,
        "stage": stage,
        "report": report,
        "items": items,
        "held": blockers(stage, report) if stage.state == Stage.State.AHEAD else [],
        "blocked": luminous.is_blocked(stage.job),
        "cautions": luminous.CAUTIONS,
        "times": times,
        "minutes": minutes_of([time for time in times if not time.undone]),
        "running": next((time for time in times if time.ended is None and not time.undone), None),
        "photos": stage.job.photos.filter(stage=stage.kind, archived=False),
        "photos_away": stage.job.photos.filter(stage=stage.kind, archived=True),
        "before": ORDER[place - 1] if place else "",
        "after": ORDER[place + 1] if place + 1 < len(ORDER) else "",
        "events": stage.job.events.filter(stage=stage.kind).select_related("by")[:SHOWN],
    }
