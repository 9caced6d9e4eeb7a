"""Closing, opening again and archiving jobs, and what they wait for."""

from django.db import transaction

from jobs.history import record
from jobs.models import Job


@transaction.atomic
def close_job(*, job, state, by):
    """Close the job as finished, declined or returned unrepaired. Raises ValueError for finished with stages left."""
    job.refresh_from_db(fields=["stage", "state"])
    if state == Job.State.FINISHED and job.stage:
        raise ValueError("Not every stage is closed or skipped; close the job as declined or returned, or go on.")
    _set(job, by, "Job closed", state=state, waits_for=Job.WaitsFor.NOTHING)


def open_job_again(*, job, by):
    """Open a closed job again; its stages stay as they were."""
    _set(job, by, "Job opened again", state=Job.State.OPEN, waits_for=Job.WaitsFor.ME)


def archive(*, job, archived, by):
    """Take a job out of the lists, or bring it back; nothing of it is lost."""
    _set(job, by, "Job archived" if archived else "Job brought back", archived=archived)


def wait_for(*, job, whom, by):
    """Say what the job waits for."""
    _set(job, by, "Waits for", waits_for=Job.WaitsFor(whom))


@transaction.atomic
def _set(job, by, what, **values):
    name = next(iter(values))
    before = getattr(job, f"get_{name}_display")() if name != "archived" else ""
    for key, value in values.items():
        setattr(job, key, value)
    job.save(update_fields=[*values, "updated"])
    after = getattr(job, f"get_{name}_display")() if name != "archived" else ""
    record(job=job, by=by, what=what, before=before, after=after)
