"""Closing, opening again and archiving jobs, and what they wait for."""

from __future__ import annotations

from typing import TYPE_CHECKING

from django.db import transaction

from jobs.history import record
from jobs.models import Event, Job
from jobs.orders import wanting
from jobs.stages.work_time import stop_timers

if TYPE_CHECKING:
    from django.contrib.auth.models import User


class StillToBuy(ValueError):
    """A job would be finished with parts still to buy; says which."""


@transaction.atomic
def close_job(*, job: Job, state: str, by: User, although_wanting: bool = False) -> None:
    """Close the job as finished, declined or returned as it came, and stop its timers.

    Raises ValueError for finished with stages left, and for a job that was closed as something else; StillToBuy for
    finished with parts still to buy, but where it is said to be so `although_wanting`.
    """
    job = _locked(job)
    if job.state == state:
        return
    if job.state != Job.State.OPEN:
        raise ValueError(f"This job is closed ({job.get_state_display()}). Reopen it first.")
    if state == Job.State.FINISHED and job.stage:
        raise ValueError("Some stages are not done. Finish or skip them, or close the job as declined or returned.")
    if state == Job.State.FINISHED and not although_wanting and (left := wanting(job)):
        raise StillToBuy(f"Still under Parts to buy: {'; '.join(map(str, left))}. Note what came, or finish anyway.")
    for stage in job.stages.filter(work_times__ended=None).distinct():
        stop_timers(stage=stage)
    _set(job, by, Event.Kind.CLOSED, state=state, waits_for=Job.WaitsFor.NOTHING)


@transaction.atomic
def open_job_again(*, job: Job, by: User) -> None:
    """Open a closed job again, also out of the archive; its stages stay as they were."""
    archive(job=job, archived=False, by=by)
    if (job := _locked(job)).state != Job.State.OPEN:
        _set(job, by, Event.Kind.REOPENED, state=Job.State.OPEN, waits_for=Job.WaitsFor.ME)


@transaction.atomic
def archive(*, job: Job, archived: bool, by: User) -> None:
    """Take a job out of the lists, or bring it back; nothing of it is lost. Raises ValueError for an open one."""
    job = _locked(job)
    if job.archived == archived:
        return
    if archived and job.state == Job.State.OPEN:
        raise ValueError("This job is still open. Close it first, then archive it.")
    _set(job, by, Event.Kind.ARCHIVED if archived else Event.Kind.BROUGHT_BACK, archived=archived)


@transaction.atomic
def wait_for(*, job: Job, whom: str, by: User) -> None:
    """Say what an open job waits for. Raises ValueError for a closed one."""
    job, whom = _locked(job), Job.WaitsFor(whom)
    if job.state != Job.State.OPEN:
        raise ValueError("This job is closed. Reopen it first.")
    if job.waits_for != whom:
        _set(job, by, Event.Kind.WAITS, waits_for=whom)


def _locked(job):
    return Job.objects.select_for_update().get(pk=job.pk)


def _set(job, by, kind, **values):
    name = next(iter(values))
    before = getattr(job, name)
    for key, value in values.items():
        setattr(job, key, value)
    job.save(update_fields=[*values, "updated"])
    record(job=job, by=by, kind=kind, data={"before": before, "after": values[name]})
