"""Orders by what is to be done, and finished pieces that wait to be sent."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from django.db.models import Count, Q, Sum
from django.utils import timezone

from jobs.listed import Group, groups_of
from jobs.models import HolderOrder
from parts.models import HolderDesign

if TYPE_CHECKING:
    from django.db.models import QuerySet

State = HolderOrder.State


class Stock(NamedTuple):
    """Finished pieces of a revision, all of one material and colour; `cancelled` of the `pieces` nobody waits for."""

    design: HolderDesign
    material: str
    colour: str
    pieces: int
    cancelled: int


def groups() -> list[Group]:
    """What is to make, to check and to send, what is sent without feedback, and folded what is over; none empty."""
    orders = HolderOrder.objects.all()
    sent, latest = orders.filter(state=State.SENT), ("-changed", "-pk")
    some = [
        ("To make", orders.filter(state=State.MAKE), False),
        ("To check", orders.filter(state=State.CHECK), False),
        ("To send", orders.filter(state=State.SEND), False),
        ("Sent, no feedback yet", sent.filter(feedback="").order_by("sent_on", "pk"), False),
        ("With feedback, or cancelled", _over(orders).order_by(*latest), True),
    ]
    return groups_of(some, ready=with_all)


def with_all(orders: QuerySet[HolderOrder]) -> QuerySet[HolderOrder]:
    """The orders with what their lines show."""
    return orders.select_related("customer", "design__family", "design__movement")


def waiting() -> tuple[int, int]:
    """How many orders are still to be made, checked or sent, and how many of them are late."""
    is_open, is_late = Q(state__in=HolderOrder.OPEN), Q(wanted_by__lt=timezone.localdate())
    counts = HolderOrder.objects.aggregate(open=Count("pk", filter=is_open), late=Count("pk", filter=is_open & is_late))
    return counts["open"], counts["late"]


def stock() -> list[Stock]:
    """The finished pieces that are not sent."""
    finished = HolderOrder.objects.filter(made_on__isnull=False, sent_on__isnull=True)
    counts = (
        finished.order_by()
        .values("design", "material", "colour")
        .annotate(all=Sum("count"), cancelled=Sum("count", filter=Q(state=State.CANCELLED), default=0))
    )
    designs = HolderDesign.objects.select_related("family", "movement").in_bulk({row["design"] for row in counts})
    rows = [
        Stock(designs[row["design"]], row["material"], row["colour"], row["all"], row["cancelled"]) for row in counts
    ]
    return sorted(rows, key=lambda row: (str(row.design), row.material, row.colour))


def _over(orders):
    return orders.filter(Q(state=State.CANCELLED) | (Q(state=State.SENT) & ~Q(feedback="")))
