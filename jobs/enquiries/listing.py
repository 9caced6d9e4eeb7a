"""Enquiries by what they wait for."""

from __future__ import annotations

from typing import TYPE_CHECKING

from django.db.models import Count, Q
from django.utils import timezone

from jobs.listed import Group, groups_of
from jobs.models import Enquiry

if TYPE_CHECKING:
    from django.db.models import QuerySet


def groups() -> list[Group]:
    """Those that wait for us, those to ask again, the rest of the answered, and folded what is over; none empty."""
    answered = Enquiry.objects.filter(state=Enquiry.State.ANSWERED)
    over = Enquiry.objects.exclude(state__in=Enquiry.OPEN).order_by("-changed")
    some = [
        ("Wait for an answer", Enquiry.objects.filter(state=Enquiry.State.WAITING), False),
        ("To ask again", answered.filter(_due()).order_by("follow_up", "pk"), False),
        ("Answered", answered.exclude(_due()).order_by("-answered", "-pk"), False),
        ("Became jobs, or closed", over, True),
    ]
    return groups_of(some, ready=with_all)


def with_all(enquiries: QuerySet[Enquiry]) -> QuerySet[Enquiry]:
    """The enquiries with what their lines show."""
    return enquiries.select_related("customer", "case_family", "entry", "job")


def waiting() -> tuple[int, int]:
    """How many wait for an answer, and how many are to be asked again by now."""
    counts = Enquiry.objects.aggregate(
        waiting=Count("pk", filter=Q(state=Enquiry.State.WAITING)),
        due=Count("pk", filter=Q(state=Enquiry.State.ANSWERED) & _due()),
    )
    return counts["waiting"], counts["due"]


def _due():
    return Q(follow_up__lte=timezone.localdate())
