"""Timing runs: readings taken, and what they say of the watch's rate."""

from __future__ import annotations

import datetime as dt
from dataclasses import dataclass
from math import hypot, sqrt
from typing import TYPE_CHECKING, Any

from django.db import transaction
from django.utils import timezone

from jobs.history import record, record_change
from jobs.models import Event, Reading, Shop, TimingRun
from jobs.options.choosing import chosen_option
from jobs.rate import READING_S, WRIST_C, Fit, RateVerdict, at_wrist, fit_rate, judge_rate

if TYPE_CHECKING:
    from django.contrib.auth.models import User

    from jobs.models import Job


@dataclass(frozen=True, slots=True)
class Outcome:
    """What a run says: its readings as (s since the first, offset in s), line, verdict and the rate at the wrist.

    `reading_s` is the standard uncertainty taken for a reading, s: that of reading, and of the worst clock among them;
    `wrist_c` the temperature that the rate at the wrist is for, °C.
    """

    points: list
    fit: Fit | None
    verdict: RateVerdict | None
    at_wrist: float | None
    reading_s: float = READING_S
    wrist_c: float = WRIST_C


@transaction.atomic
def start_run(*, job: Job, by: User, as_found: bool = False, **facts: Any) -> TimingRun:
    """Start a run; `facts` are its temperature, cell voltage, current draw and note."""
    run = TimingRun.objects.create(job=job, by=by, as_found=as_found, **facts)
    record(job=job, by=by, kind=Event.Kind.RUN_STARTED, data=facts_of(run), stage="timing")
    return run


def facts_of(run: TimingRun):
    """What the history keeps of a run."""
    return {"run": run.pk, "as_found": run.as_found, "started": timezone.localtime(run.started).date()}


@transaction.atomic
def change_run(*, run: TimingRun, changes: dict[str, tuple[object, object]], by: User) -> Any:
    """Save what is noted of a run; `changes` maps names of its fields to (before, after), one line of history each."""
    run.save()
    for name, (before, after) in changes.items():
        values = {"field": TimingRun._meta.get_field(name), "before": before, "after": after} | facts_of(run)
        record_change(job=run.job, by=by, kind=Event.Kind.RUN_CHANGED, stage="timing", **values)


def add_reading(*, run: TimingRun, at: dt.datetime, offset_s: float, how: str, plus_minus_s: float = 0.0) -> Reading:
    """Add a reading of watch minus reference, s."""
    return Reading.objects.create(run=run, at=at, offset_s=offset_s, how=how, plus_minus_s=plus_minus_s)


@transaction.atomic
def undo(*, reading: Reading, by: User, undone: bool = True) -> None:
    """Leave a reading out, or count it again."""
    if reading.undone == undone:
        return
    reading.undone = undone
    reading.save(update_fields=["undone"])
    kind = Event.Kind.READING_LEFT_OUT if undone else Event.Kind.READING_COUNTED
    facts = {"reading": reading.pk, "run": reading.run_id, "at": reading.at.isoformat(), "offset_s": reading.offset_s}
    record(job=reading.run.job, by=by, kind=kind, data=facts, stage="timing")


@transaction.atomic
def archive(*, run: TimingRun, archived: bool, by: User) -> None:
    """Archive a run, so that it counts no more for the verdict, or bring it back."""
    if run.archived == archived:
        return
    run.archived = archived
    run.save(update_fields=["archived"])
    kind = Event.Kind.RUN_ARCHIVED if archived else Event.Kind.RUN_BACK
    record(job=run.job, by=by, kind=kind, data=facts_of(run), stage="timing")


def outcome(
    run: TimingRun,
    *,
    low: float | None = None,
    high: float | None = None,
    coefficient: float | None = None,
    turnover: float | None = None,
    tap_s: float = READING_S,
    wrist_c: float = WRIST_C,
) -> Outcome:
    """What the run's readings say, against rate limits in s/day; `tap_s` is the standard uncertainty of one reading.

    A run of the watch as found is that of the old movement: the chosen movement's limits and crystal are not its own.
    """
    readings = [reading for reading in run.readings.all() if not reading.undone]
    if not readings:
        return Outcome([], None, None, None)
    if run.as_found:
        low = high = None
    start = readings[0].at
    points = [((reading.at - start).total_seconds(), reading.offset_s) for reading in readings]
    reading_s = hypot(tap_s, max(reading.plus_minus_s for reading in readings) / sqrt(3))
    fit = fit_rate(points, reading_s)
    if fit is None:
        return Outcome(points, None, None, None, reading_s, wrist_c)
    crystal = {
        name: value for name, value in (("coefficient", coefficient), ("turnover", turnover)) if value is not None
    }
    carried = run.bench_temperature is not None and not run.as_found
    wrist = at_wrist(fit.rate, run.bench_temperature, wrist_c, **crystal) if carried else None
    return Outcome(points, fit, judge_rate(fit, low, high, points[-1][0]), wrist, reading_s, wrist_c)


def terms_of(job):
    """The terms that the job's runs are judged by, as keywords for `outcome`."""
    option = chosen_option(job)
    return terms(shop=Shop.current(), movement=option.pairing.movement if option else None)


def terms(*, shop: Any, movement: Any) -> Any:
    """The shop's rules, the chosen movement's rate limits in s/day and its crystal, as keywords for `outcome`."""
    rules = {"tap_s": shop.tap_s, "wrist_c": shop.wrist_c}
    if movement is None:
        return rules
    return rules | {
        "low": movement.rate_low_s_per_day,
        "high": movement.rate_high_s_per_day,
        "coefficient": movement.crystal_coefficient,
        "turnover": movement.crystal_turnover,
    }


def last_verdict(job):
    """The verdict of the job's latest run with two readings or more, as-found runs left out; None without one."""
    return verdict_among(runs_of(job), terms_of(job))


def runs_of(job):
    """The job's runs that are not archived, newest first, with their readings."""
    return list(job.timing_runs.filter(archived=False).order_by("-pk").prefetch_related("readings"))


def verdict_among(runs, judged_by):
    """The verdict of the first of these runs with two readings or more, as-found runs left out; None without one.

    `judged_by` are the keywords for `outcome` that `terms` gives.
    """
    judged = (outcome(run, **judged_by).verdict for run in runs if not run.as_found)
    return next((verdict for verdict in judged if verdict), None)
