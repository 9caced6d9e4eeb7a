"""Timing runs: readings taken, and what they say of the watch's rate."""

from __future__ import annotations

import datetime as dt
from dataclasses import dataclass, field
from math import hypot, sqrt
from typing import TYPE_CHECKING, Any

from django.db import transaction
from django.utils import timezone

from jobs.history import record, record_change
from jobs.models import Event, Reading, Shop, TimingRun
from jobs.options.choosing import chosen_option
from jobs.rate import READING_S, WRIST_C, Fit, at_wrist, fit_rate, tap_offset
from jobs.timing.outliers import outliers
from jobs.timing.verdicts import RateVerdict, first_wait, judge_rate
from parts.models import Movement
from parts.sheets import chosen_hands, shows_seconds

if TYPE_CHECKING:
    from django.contrib.auth.models import User

    from jobs.models import Job, Option

TAPS_APART_S = 20.0
"""Taps nearer than this are one: more than a double tap or two people, less than the 60 s to the next crossing."""


@dataclass(frozen=True, slots=True)
class Outcome:
    """What a run says: its readings as (s since the first, offset in s), line, verdict and the rate at the wrist.

    `errors` are the readings' standard uncertainties, s; `off` maps the places of those off the line of the others to
    how far, s; `wrist_c` is the temperature that the rate at the wrist is for and `bench_c` that of the bench, °C.
    `waits` is the verdict, and with one reading what is said instead. `due` is when one more reading tells a rate or
    the verdict, `decided` when it would tell the verdict of a rate in the middle of the limits.
    """

    points: list
    fit: Fit | None
    verdict: RateVerdict | None
    at_wrist: float | None
    errors: list = field(default_factory=list)
    off: dict = field(default_factory=dict)
    wrist_c: float = WRIST_C
    bench_c: float | None = None
    waits: RateVerdict | None = None
    due: dt.datetime | None = None
    decided: dt.datetime | None = None

    @property
    def tells_rate(self):
        """Whether the interval is narrow enough to tell a rate."""
        return self.verdict is not None and self.verdict.word != "early"


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
def take_tap(*, run: TimingRun, at: dt.datetime, plus_minus_s: float) -> tuple[Reading, bool]:
    """Add a tap as the seconds hand crosses 12; returns the reading and whether it is new.

    A tap less than TAPS_APART_S from one that counts is the same crossing, tapped twice or by two people: the first
    stays and nothing is added. The run's row is held, so that of two taps in one instant the second sees the first.
    """
    TimingRun.objects.select_for_update().get(pk=run.pk)
    within = dt.timedelta(seconds=TAPS_APART_S)
    near = run.readings.filter(how=Reading.How.TAP, undone=False, at__gt=at - within, at__lt=at + within).first()
    if near:
        return near, False
    offset = tap_offset(at.second + at.microsecond / 1e6, _expected_offset(run, at))
    return add_reading(run=run, at=at, offset_s=offset, how=Reading.How.TAP, plus_minus_s=plus_minus_s), True


def _expected_offset(run, at):
    """The offset in s that the readings so far lead to expect at a time."""
    readings = [reading for reading in run.readings.all() if not reading.undone]
    if not readings:
        return 0.0
    seconds = (at - readings[0].at).total_seconds()
    fit = fit_rate([((reading.at - readings[0].at).total_seconds(), reading.offset_s) for reading in readings])
    return fit.offset_at(seconds) if fit else readings[-1].offset_s


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
    has_crystal: bool = True,
) -> Outcome:
    """What the run's readings say, against rate limits in s/day; `tap_s` is the standard uncertainty of one tap.

    The limits are held at the wrist's temperature where the bench's is noted, and at the bench's otherwise. A run of
    the watch as found is that of the old movement: the chosen movement's limits and crystal are not its own.
    """
    readings = [reading for reading in run.readings.all() if not reading.undone]
    if not readings:
        return Outcome([], None, None, None)
    if run.as_found:
        low = high = None
    start, last = readings[0].at, readings[-1].at
    points = [((reading.at - start).total_seconds(), reading.offset_s) for reading in readings]
    errors = [standard_error(reading, tap_s) for reading in readings]
    fit = fit_rate(points, errors)
    crystal = {
        name: value for name, value in (("coefficient", coefficient), ("turnover", turnover)) if value is not None
    }
    carried = fit and has_crystal and run.bench_temperature is not None and not run.as_found
    wrist = at_wrist(fit.rate, run.bench_temperature, wrist_c, **crystal) if carried else None
    shift = wrist - fit.rate if carried else 0.0
    verdict = judge_rate(fit, low, high, points[-1][0], shift=shift, tap_s=tap_s) if fit else None
    waits = verdict or first_wait(errors[-1], low, high, tap_s=tap_s)
    return Outcome(
        points=points,
        fit=fit,
        verdict=verdict,
        at_wrist=wrist,
        errors=errors,
        off={outlier.place: outlier.off for outlier in outliers(points, errors)},
        wrist_c=wrist_c,
        bench_c=run.bench_temperature,
        waits=waits,
        due=_after(last, waits.hours),
        decided=_after(last, waits.decides),
    )


def _after(moment, hours):
    return None if hours is None else moment + dt.timedelta(hours=hours)


def standard_error(reading, tap_s=READING_S):
    """Standard uncertainty of a reading, s: half-widths are taken as rectangular (GUM 4.3.7), so divided by √3.

    A tap has the shop's `tap_s` and the clock's own; a typed reading what was typed with it, or else `tap_s`.
    """
    own = reading.plus_minus_s / sqrt(3)
    return own if reading.how == Reading.How.TYPED and own else hypot(tap_s, own)


def terms_of(job):
    """The terms that the job's runs are judged by, as keywords for `outcome`."""
    return judged_by(chosen_option(job))


def judged_by(option: Option | None) -> Any:
    """The terms of runs with this option chosen."""
    return terms(shop=Shop.current(), movement=option.pairing.movement if option else None)


AT_SECONDS = "the seconds hand crosses 12"
AT_MINUTE = "the minute hand comes onto a minute mark"


def tapped_when(option: Option | None) -> str:
    """What a tap waits for: the seconds hand, or the minute hand where the option's hands are without one."""
    if option is None or not chosen_hands(option.pairing) or shows_seconds(option.pairing):
        return AT_SECONDS
    return AT_MINUTE


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
        "has_crystal": movement.kind != Movement.Kind.MECHANICAL,
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
