"""Parts to buy for a job: what is ordered, and what the job waits for."""

from __future__ import annotations

from typing import TYPE_CHECKING

from django.db import transaction

from jobs.history import record
from jobs.models import Event, Job, Order
from parts.library.part_records import key_of
from parts.library.picker import kind_of

if TYPE_CHECKING:
    from collections.abc import Iterable

    from django.contrib.auth.models import User

    from parts.models.base import Part


MADE_HERE = ("holder-wall", "stem-height", "dial-seat", "post-hour", "post-minute", "post-seconds")
"""The checks whose parts the shop makes itself: ring, spacer, centring ring, bush. They are work, on a checklist."""


ONWARD = {Order.State.WANTED: Order.State.ORDERED, Order.State.ORDERED: Order.State.ARRIVED}
"""What comes next of a part to buy."""


def of_part(orders: Iterable[Order], part: Part) -> list[Order]:
    """Those of the parts to buy that are this part of the library."""
    kind = kind_of(type(part)).slug
    return [order for order in orders if (order.kind, order.part) == (kind, part.pk)]


def is_wanting(job: Job) -> bool:
    """Whether a part of the job is still to be ordered or on its way."""
    return job.orders.filter(state__in=Order.OPEN).exists()


def wanting(job: Job) -> list[Order]:
    """The parts of the job that are still to be ordered or on their way, the soonest first."""
    return list(job.orders.filter(state__in=Order.OPEN).order_by("expected", "pk"))


@transaction.atomic
def take_onward(*, keys: Iterable[str], state: str, by: User) -> list[Order]:
    """Put those of the parts to buy that are in this state into the next one; returns them."""
    known = [key for text in keys if (key := key_of(text)) is not None]
    orders = list(Order.objects.select_for_update().filter(state=state, pk__in=known).order_by("pk"))
    for order in orders:
        order.state = ONWARD[Order.State(state)]
        save_order(order=order, by=by)
    return orders


@transaction.atomic
def save_order(*, order: Order, by: User) -> Order:
    """Save a part to buy and how it stands; with the last part there, the job no longer waits for parts."""
    order.save()
    facts = {"order": order.pk, "state": order.state}
    record(job=order.job, by=by, kind=Event.Kind.ORDER, data=facts, after=order.text)
    if not is_wanting(order.job):
        Job.objects.filter(pk=order.job_id, waits_for=Job.WaitsFor.PARTS).update(waits_for=Job.WaitsFor.ME)
    return order
