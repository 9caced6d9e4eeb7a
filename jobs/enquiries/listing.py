"""Enquiries by what they wait for."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from django.db.models import Count, Q
from django.utils import timezone

from jobs.models import Enquiry

if TYPE_CHECKING:
    from django.db.models import QuerySet

_MOST = 200


class Group(NamedTuple):
    """Enquiries that wait for the same; `number` counts those that are not listed too."""

    head: str
    enquiries: list[Enquiry]
    number: int
    folded: bool = False


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
    made = [_group(head, rows, folded) for head, rows, folded in some]
    return [group for group in made if group.number]


def waiting() -> tuple[int, int]:
    """How many wait for an answer, and how many are to be asked again by now."""
    counts = Enquiry.objects.aggregate(
        waiting=Count("pk", filter=Q(state=Enquiry.State.WAITING)),
        due=Count("pk", filter=Q(state=Enquiry.State.ANSWERED) & _due()),
    )
    return counts["waiting"], counts["due"]


def _due():
    return Q(follow_up__lte=timezone.localdate())


def _group(head: str, rows: QuerySet[Enquiry], folded: bool) -> Group:  # noqa: FBT001 - one of three of a row
    listed = list(rows.select_related("customer", "case_family", "entry", "job")[:_MOST])
    return Group(head, listed, len(listed) if len(listed) < _MOST else rows.count(), folded)
