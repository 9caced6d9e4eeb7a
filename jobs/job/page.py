"""What the page of a job shows."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from django.db.models import prefetch_related_objects
from django.utils import timezone

from jobs import luminous, stock
from jobs.after.due import open_due
from jobs.after.listing import with_jobs
from jobs.invoices.account import account_of
from jobs.job.next_step import LENGTH, step_of_job, step_of_stage
from jobs.language.choices import LANGUAGES
from jobs.models import Invoice, Job, Option, Order, PaperOut, Quote, Shop, Stage
from jobs.options.choosing import all_options, report_of
from jobs.options.forms import BeginForm, OptionForm
from jobs.options.keeping import Replaced, replaced, to_keep
from jobs.papers.labels import SIZES
from jobs.past.outcome import outcome_of
from jobs.shop.words import language_for
from jobs.stages.checklist import lines_of
from jobs.stages.drawings import drawing_of
from jobs.stages.forms import SkipForm
from jobs.stages.measuring import asked_in
from jobs.stages.progress import ORDER, SKIPPABLE, blockers, holds_ticks, may_start, not_ticked
from jobs.stages.work_time import as_hours, minutes_of
from parts.library.notes import notes_for
from parts.pairings.answer import Changes, answer, changes_since
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

    @property
    def standing(self):
        """How it stands, in a word or two."""
        if self.timer_runs:
            return "timer running"
        if self.stage.state == Stage.State.DONE:
            return as_hours(self.minutes) if self.minutes >= 1 else "done"
        if self.is_next:
            return f"{self.ticked} of {self.items}" if self.items else "next"
        return self.stage.get_state_display()


@dataclass(frozen=True, slots=True)
class OptionLine:
    """An option with its verdict now, what changed since its report was saved, and what it replaces of that to be kept.

    `is_weighed` says that the words of what must be kept name parts, so that it could be told.
    """

    option: Option
    report: Report | None
    changed: Changes
    replaced: list[Replaced]
    is_weighed: bool


def job_context(*, job: Job, sees_money: bool) -> dict[str, Any]:
    """The context of the job's page, in a number of queries that does not grow with its options, quotes and photos."""
    prefetch_related_objects([job], "conditions")
    shop, options = Shop.current(), all_options(job)
    lines = option_lines(job=job, options=options)
    chosen = next((line for line in lines if line.option.chosen), None)
    pairing, report = (chosen.option.pairing, chosen.report) if chosen else (None, None)
    photos = list(job.photos.all())
    stages, orders, quotes = stages_of(job), list(job.orders.all()), list(job.quotes.all())
    agreed, outcome, begin_form = may_start(job), outcome_of(job), BeginForm(job=job)
    hindsights = list(job.hindsights.exclude(found=""))
    drawer = stock.drawer_of(job, pairing) if pairing else []
    before = step_of_job(
        job=job,
        options=options,
        quotes=quotes,
        orders=orders,
        at_hand=stock.at_hand(drawer, orders),
        may_start=agreed,
        sees_money=sees_money,
        has_outcome=outcome.pk is not None or bool(hindsights),
        case=begin_form["case"].initial,
    )
    open_stage = stages.get(job.stage) if job.state == Job.State.OPEN else None
    option = chosen.option if chosen else None
    work = work_context(stage=open_stage, report=report, option=option, agreed=agreed) if open_stage else {}
    return (
        {
            "job": job,
            "stage_lines": stage_lines(job=job, stages=stages, report=report),
            "options": lines,
            "weighed": [line for line in lines if not line.option.ruled_out],
            "option_form": OptionForm(job=job),
            "begin_form": begin_form,
            "chosen": chosen,
            "drawer": drawer,
            "report": report,
            "cautions": luminous.CAUTIONS,
            "may_start": agreed,
            "clearances": job.clearances.select_related("by"),
            "go_aheads": job.go_aheads.select_related("by"),
            "conditions": job.conditions.all(),
            "outcome": outcome,
            "has_outcome": outcome.pk is not None or bool(hindsights),
            "hindsights": hindsights,
            "notes": notes_for([job.case_family, pairing and pairing.movement]),
            "photos": [photo for photo in photos if not photo.archived],
            "photos_away": [photo for photo in photos if photo.archived],
            "events": job.events.select_related("by")[:SHOWN],
            "shop": shop,
            "currency": shop.currency,
            "quotes": quotes,
            "last_quote": max(quotes, key=lambda quote: quote.version, default=None),
            "orders": orders,
            "wanting": [order for order in orders if order.state in Order.OPEN],
            "papers": job.papers.all()[:8],
            "label_places": SIZES[shop.label].places,
            "languages": LANGUAGES,
            "paper_language": language_for(job.customer, shop),
            "paper_kinds": [(kind, kind.label) for kind in PaperOut.MADE_BY_HAND],
            "waits": Job.WaitsFor.choices,
            "today": timezone.localdate(),
            "blocked": luminous.is_blocked(job),
            "after": with_jobs(open_due(job=job), timezone.localdate()),
            "back": "job",
        }
        | (money_context(job=job, quotes=quotes, shop=shop) if sees_money else {})
        | work
        | ({"step": before} if before else {})
        | ({"finish": work["step"].primary} if before and work.get("may_finish") else {})
    )


def money_context(*, job: Job, quotes: list[Quote], shop: Shop) -> dict[str, Any]:
    """What a job's money fold shows, to who sees money. Without a quote that was answered there is no invoice."""
    payments = list(job.payments.all())
    invoices = list(job.invoices.all()) if any(quote.decided_on for quote in quotes) else []
    return {
        "account": account_of(quotes=quotes, payments=payments, invoices=invoices, shop=shop),
        "payments": payments,
        "invoices": invoices,
        "standing": Invoice.standing(job) if invoices else None,
    }


def stages_of(job: Job) -> dict[str, Stage]:
    """The job's stages with their ticks and times, by their words."""
    stages = {}
    for stage in job.stages.prefetch_related("ticks__by", "work_times__by"):
        stage.job = job
        stages[stage.kind] = stage
    return stages


def work_context(
    *, stage: Stage, report: Report | None, option: Option | None, agreed: bool | None = None
) -> dict[str, Any]:
    """What leads a stage and its checklist: the next step, the lines with their ticks, the drawing, the time."""
    lines = lines_of(stage.kind, report, stage.job, stage.ticks.all())
    held = blockers(stage, report, agreed) if stage.state == Stage.State.AHEAD else []
    times = list(stage.work_times.all())
    measure_next = LENGTH if stage.kind == Stage.Kind.STEM else ""
    asked = asked_in(stage, option.pairing) if option and measure_next else []
    return {
        "stage": stage,
        "lines": lines,
        "left": sum(line.is_open for line in lines),
        "ticked": sum(line.tick is not None for line in lines),
        "stage_place": ORDER.index(stage.kind) + 1,
        "held": [reason for reason in held if reason != not_ticked(lines)],
        "may_finish": stage.state == Stage.State.AHEAD and not held,
        "step": step_of_stage(stage=stage, lines=lines, held=held, pairing=option.pairing if option else None),
        "measured_here": next((each for each in asked if each.path == measure_next), None),
        "drawing": drawing_of(stage.kind, report),
        "holds_ticks": holds_ticks(stage),
        "times": times,
        "spent": as_hours(minutes_of([time for time in times if not time.undone])),
        "running": next((time for time in times if time.ended is None and not time.undone), None),
        "skippable": stage.kind in SKIPPABLE,
        "skip_form": SkipForm(),
    }


def stage_lines(*, job: Job, stages: dict[str, Stage], report: Report | None) -> list[StageLine]:
    """The job's stages in their order."""
    rows = []
    for kind in ORDER:
        stage = stages[kind]
        lines = lines_of(kind, report, job, stage.ticks.all())
        times = [time for time in stage.work_times.all() if not time.undone]
        ticked, runs = sum(line.tick is not None for line in lines), any(time.ended is None for time in times)
        rows.append(StageLine(stage, ticked, len(lines), minutes_of(times), kind == job.stage, runs))
    return rows


def option_lines(*, job: Job, options: Iterable[Option]) -> list[OptionLine]:
    """A line for each option, in their order."""
    rules = shop_rules()
    lines = []
    for option in options:
        report = answer(option.pairing, rules).report
        saved = next(iter(option.reports.all()), None)
        changed = changes_since(saved.report if saved else None, report)
        lines.append(OptionLine(option, report, changed, replaced(job, option.pairing), bool(to_keep(job.keep))))
    return lines


def stage_context(*, stage: Stage, option: Option | None) -> dict[str, Any]:
    """What a stage's page shows beside its forms."""
    job, report = stage.job, report_of(option)
    stages = stages_of(job)
    stage = stages[stage.kind]
    return {
        "job": job,
        "report": report,
        "stage_lines": stage_lines(job=job, stages=stages, report=report),
        "blocked": luminous.is_blocked(job),
        "cautions": luminous.CAUTIONS,
        "photos": job.photos.filter(stage=stage.kind, archived=False),
        "photos_away": job.photos.filter(stage=stage.kind, archived=True),
        "events": job.events.filter(stage=stage.kind).select_related("by")[:SHOWN],
        "today": timezone.localdate(),
    } | work_context(stage=stage, report=report, option=option)
