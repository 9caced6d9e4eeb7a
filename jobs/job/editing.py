"""Changing what was agreed about a job after it was logged."""

from django.db import transaction

from jobs.history import record


def texts_of(job, names):
    """The job's fields of these names as the history tells them."""
    return {name: str(getattr(job, name) or "") for name in names}


@transaction.atomic
def save_changes(*, job, before, labels, by):
    """Save the job, with a line of history for each field that differs from `before` (see `texts_of`)."""
    job.save()
    for name, after in texts_of(job, before).items():
        if after != before[name]:
            record(job=job, by=by, what=f"Changed: {labels[name]}", before=before[name], after=after)
