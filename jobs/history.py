"""Writing the history of a job."""

from jobs.models import Event, StaleRecord


def record(*, job, by, what, stage="", before="", after=""):
    """Write down that something happened: `what` in a few words, what it was and what it became."""
    changed(job=job)
    return Event.objects.create(job=job, by=by, what=what, stage=stage, before=str(before), after=str(after))


def changed(*, job):
    """Have the job's record for searching and counting made anew before it is read again."""
    StaleRecord.objects.create(job=job)
