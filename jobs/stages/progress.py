"""The stages of a job in their order: what holds one open, closing, skipping, opening again."""

from __future__ import annotations

from typing import TYPE_CHECKING

from django.db import transaction
from django.db.models import Exists, OuterRef, Q

from jobs import luminous
from jobs.history import record
from jobs.models import Event, GoAhead, Job, Quote, Stage, Tick
from jobs.stages.checklist import lines_of
from jobs.stages.work_time import stop_timers
from jobs.timing import timing_runs
from parts.fit.units import with_unit

if TYPE_CHECKING:
    from django.contrib.auth.models import User

    from jobs.stages.checklist import Item
    from parts.fit import Report

ORDER = tuple(Stage.Kind.values)
SKIPPABLE = ("teardown", "holder", "dial", "hands", "stem", "timing")


_UNCLEARED = "The luminous paint is not cleared: the watch stays closed."
NOT_AGREED = "The customer has not agreed yet: no accepted quote, no go-ahead."
NO_READINGS = "Take at least two readings first."
NO_OPTION = "No option chosen. Choose one on the job's page."


class StageBlocked(Exception):
    """A stage cannot be closed; `reasons` says why, each with what to do."""

    def __init__(self, reasons):
        self.reasons = reasons
        super().__init__(" ".join(reasons))


def create_stages(job):
    """Make the stages of a new job; intake is done by logging it."""
    Stage.objects.bulk_create(
        Stage(job=job, kind=kind, state=Stage.State.DONE if kind == "intake" else Stage.State.AHEAD) for kind in ORDER
    )


def blockers(stage, report, agreed=None):
    """Why the stage cannot be closed now, each reason with what to do; empty where it can.

    `agreed` tells what `may_start` says, where the caller has asked already.
    """
    job, reasons = stage.job, closed_job(stage.job)
    if stage.state == Stage.State.SKIPPED:
        reasons.append(f"{str(stage).capitalize()} is skipped. Reopen it first.")
    earlier = job.stages.filter(state=Stage.State.AHEAD, kind__in=ORDER[: ORDER.index(stage.kind)])
    if first := min(earlier, key=lambda open_stage: ORDER.index(open_stage.kind), default=None):
        reasons.append(f"Finish or skip {first} first.")
    if luminous.is_blocked(job):
        reasons.append(_UNCLEARED)
    if stage.kind == "teardown" and not (may_start(job) if agreed is None else agreed):
        reasons.append(NOT_AGREED)
    if stage.kind in _REPORT_STAGES and report is None:
        reasons.append(NO_OPTION)
    if left := not_ticked(lines_of(stage.kind, report, job, stage.ticks.all())):
        reasons.append(left)
    return reasons + _OWN_GATES.get(stage.kind, lambda *_: [])(stage, report)


def not_ticked(lines):
    """How many lines of a checklist hold the stage open, in words; empty for none."""
    left = sum(line.is_open for line in lines)
    return f"{left} required item{'s are' if left > 1 else ' is'} not ticked." if left else ""


def closed_job(job):
    """Why nothing is done in the stages of a closed job; empty for an open one."""
    return [] if job.state == Job.State.OPEN else ["This job is closed. Reopen it first."]


def may_start(job):
    """Whether the customer has agreed to the watch being opened."""
    return Job.objects.filter(agreement(), pk=job.pk).exists()


def agreement():
    """The same as an expression over jobs: a go-ahead that stands, or a quote that is accepted."""
    said = GoAhead.objects.filter(job=OuterRef("pk"), undone=False)
    return Exists(said) | Exists(Quote.objects.filter(job=OuterRef("pk"), state=Quote.State.ACCEPTED))


_REPORT_STAGES = ("holder", "dial", "hands", "stem")


def _stem_gate(stage, report):
    if "stem.length" not in stage.measured:
        return ["Measure the stem after cutting and enter its length."]
    value = report["stem-length"].value if report else None
    if value is not None and value.known and value.value < -report.pairing.rules.crown_gap:
        short = with_unit(-value.value, "mm")
        return [f"The stem is {short} shorter than L, {with_unit(report.stem.length, 'mm')}; fit a longer one."]
    return []


def _timing_gate(stage, _report):
    verdict = timing_runs.last_verdict(stage.job)
    if verdict is None:
        return [NO_READINGS]
    if verdict.word == "early":
        return ["The readings do not tell a rate yet. Keep timing, or skip the stage with a reason."]
    if verdict.word in ("outside", "wait"):
        word = "outside the movement's limits" if verdict.word == "outside" else "not settled yet"
        return [f"The rate is {word}. Keep timing, or skip the stage with a reason."]
    return []


_OWN_GATES = {"stem": _stem_gate, "timing": _timing_gate}


@transaction.atomic
def close(*, stage: Stage, report: Report | None, by: User) -> None:
    """Close the stage, stop its timers, move the job on. Raises StageBlocked where something is still open.

    A stage that is closed already stays as it is, so that closing twice closes once.
    """
    stage = _locked(stage)
    if stage.state == Stage.State.DONE:
        return
    if reasons := blockers(stage, report):
        raise StageBlocked(reasons)
    _move(stage, Stage.State.DONE, by, Event.Kind.STAGE_CLOSED)


@transaction.atomic
def skip(*, stage: Stage, reason: str, by: User) -> None:
    """Leave the stage out, with the reason.

    Raises StageBlocked for a stage that every job needs, one that is closed, and while the watch must stay closed.
    """
    stage = _locked(stage)
    if stage.kind not in SKIPPABLE:
        raise StageBlocked([f"Every job has {stage}; it cannot be skipped."])
    reasons = closed_job(stage.job)
    if stage.state == Stage.State.DONE:
        reasons.append(f"{str(stage).capitalize()} is already done. Reopen it first.")
    if luminous.is_blocked(stage.job):
        reasons.append(_UNCLEARED)
    if reasons:
        raise StageBlocked(reasons)
    if (stage.state, stage.reason) == (Stage.State.SKIPPED, reason):
        return
    stage.reason = reason
    _move(stage, Stage.State.SKIPPED, by, Event.Kind.STAGE_SKIPPED, reason)


@transaction.atomic
def open_again(*, stage: Stage, by: User) -> None:
    """Undo a closing or a skipping; everything in the stage is as it was. Raises StageBlocked where that cannot be."""
    stage = _locked(stage)
    if stage.kind == Stage.Kind.INTAKE:
        raise StageBlocked(["Intake was done when the watch was logged; change what was agreed on the job's page."])
    if reasons := closed_job(stage.job):
        raise StageBlocked(reasons)
    if stage.state == Stage.State.AHEAD:
        return
    _move(stage, Stage.State.AHEAD, by, Event.Kind.STAGE_REOPENED)


def _locked(stage):
    Job.objects.select_for_update().get(pk=stage.job_id)
    return Stage.objects.select_related("job").get(pk=stage.pk)


def _move(stage: Stage, state: str, by: User, kind: str, reason: str = "") -> None:
    facts = {"before": stage.state, "after": state}
    stage.state = state
    stage.save()
    if state != Stage.State.AHEAD:
        stop_timers(stage=stage)
    record(job=stage.job, by=by, kind=kind, data=facts, stage=stage.kind, after=reason)
    ahead = [other.kind for other in stage.job.stages.all() if other.state == Stage.State.AHEAD]
    stage.job.stage = min(ahead, key=ORDER.index, default="")
    stage.job.save(update_fields=["stage", "updated"])


def holds_ticks(stage):
    """Why nothing is ticked there, with what to do; empty where it can be."""
    if reasons := closed_job(stage.job):
        return reasons[0]
    if stage.state != Stage.State.AHEAD:
        return f"{str(stage).capitalize()} is {stage.get_state_display()}. Reopen it to change its ticks."
    if stage.kind != Stage.Kind.INTAKE and luminous.is_blocked(stage.job):
        return _UNCLEARED
    return ""


@transaction.atomic
def tick(*, stage: Stage, item: Item, done: bool, by: User) -> None:
    """Tick an item of the stage's checklist, or undo the tick."""
    if done:
        said = {"by": by, "name": item.name, "text": item.text}
        _, made = Tick.objects.get_or_create(stage=stage, key=item.key, defaults=said)
    else:
        made = bool(stage.ticks.filter(Q(key=item.key) | Q(name=item.name, text=item.text)).delete()[0])
    if made:
        kind = Event.Kind.TICKED if done else Event.Kind.TICK_UNDONE
        record(job=stage.job, by=by, kind=kind, data={"item": item.name}, stage=stage.kind, after=item.text)


@transaction.atomic
def tick_all(*, stage: Stage, report: Report | None, by: User) -> int:
    """Tick what is left of the stage's checklist but for what is optional; returns how many that were."""
    left = [line.item for line in lines_of(stage.kind, report, stage.job, stage.ticks.all()) if line.is_open]
    for item in left:
        tick(stage=stage, item=item, done=True, by=by)
    return len(left)
