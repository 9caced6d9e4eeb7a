"""The customer's yes to opening the watch: recorded, and taken back."""

from django.db import transaction

from jobs.history import record
from jobs.models import GoAhead


@transaction.atomic
def give(*, job, how, said_by, on, note, by):
    """Record the customer's go-ahead."""
    made = GoAhead.objects.create(job=job, how=how, said_by=said_by, on=on, note=note, by=by)
    record(job=job, by=by, what="Go-ahead recorded", after=made)
    return made


@transaction.atomic
def take_back(*, go_ahead, by):
    """Take a go-ahead back; it stays on record."""
    go_ahead.taken_back = True
    go_ahead.save(update_fields=["taken_back"])
    record(job=go_ahead.job, by=by, what="Go-ahead taken back", before=go_ahead)
