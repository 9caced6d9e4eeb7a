"""An enquiry on its way: taken down, answered, turned into a job, closed and opened again."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from django.db import transaction
from django.utils import timezone

from jobs.intake.arrival import family_of
from jobs.models import Enquiry

if TYPE_CHECKING:
    from django.contrib.auth.models import User

    from jobs.models import Customer, WindowEntry


@transaction.atomic
def take_down(*, by: User, customer: Customer, family_name: str, entry: WindowEntry | None, **facts: Any) -> Enquiry:
    """Make the enquiry; a new customer is saved. The family is the entry's where none is named."""
    if customer.pk is None:
        customer.save()
    family = family_of(family_name) or (entry.family if entry else None)
    return Enquiry.objects.create(by=by, customer=customer, case_family=family, entry=entry, **facts)


def answer(*, enquiry: Enquiry) -> None:
    """Save the answer that was given on the form."""
    enquiry.state, enquiry.answered = Enquiry.State.ANSWERED, timezone.localdate()
    enquiry.save()


def close(*, enquiry: Enquiry, reason: str) -> None:
    """Close it; it can be opened again."""
    enquiry.state, enquiry.reason = Enquiry.State.CLOSED, reason
    enquiry.save(update_fields=["state", "reason", "changed"])


def reopen(*, enquiry: Enquiry) -> None:
    """Open a closed one where it was."""
    enquiry.state = Enquiry.State.ANSWERED if enquiry.answered else Enquiry.State.WAITING
    enquiry.reason = ""
    enquiry.save(update_fields=["state", "reason", "changed"])
