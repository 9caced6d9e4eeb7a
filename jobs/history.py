"""Writing the history of a job."""

from jobs.models import Event


def record(*, job, by, what, stage="", before="", after=""):
    """Write down that something happened: `what` in a few words, what it was and what it became."""
    return Event.objects.create(job=job, by=by, what=what, stage=stage, before=str(before), after=str(after))
