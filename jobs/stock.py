"""Parts from the drawer: put aside for a job, used up, put back; counts corrected with a reason.

The part's row is locked while its count is looked at, so that two jobs never take the last one.
"""

from __future__ import annotations

from contextlib import suppress
from dataclasses import dataclass
from typing import TYPE_CHECKING

from django.db import transaction

from jobs.history import record
from jobs.models import Event, Order, StockCount, StockUse
from jobs.orders import of_part, save_order
from parts.library.kinds import BROUGHT_IN, KINDS
from parts.library.picker import kind_of

if TYPE_CHECKING:
    from collections.abc import Iterable

    from django.contrib.auth.models import User

    from jobs.models import Job
    from parts.models.base import Part


class NotInStock(Exception):
    """Nothing of this part is left to put aside."""


def available(part, kind):
    """How many lie in the drawer and are not put aside; None where nobody counted."""
    if part.in_stock is None:
        return None
    taken = StockUse.objects.filter(kind=kind, part=part.pk, state=StockUse.State.RESERVED).count()
    return part.in_stock - taken


def has_from_drawer(job, part):
    """Whether the job has set aside or used this part of the library."""
    uses = job.stock_uses.filter(kind=kind_of(type(part)).slug, part=part.pk)
    return uses.exclude(state=StockUse.State.RELEASED).exists()


@dataclass(frozen=True, slots=True)
class DrawerLine:
    """A part of the chosen pairing: how many are free, and what this job did with it last."""

    kind: str
    part: Part
    free: int | None
    use: StockUse | None


def drawer_of(job, pairing):
    """The parts of a pairing that a drawer may hold."""
    uses = {(use.kind, use.part): use for use in job.stock_uses.exclude(state=StockUse.State.RELEASED)}
    lines = []
    for name, part in pairing.brought_in:
        kind = BROUGHT_IN[name]
        lines.append(DrawerLine(kind, part, available(part, kind), uses.get((kind, part.pk))))
    return lines


def at_hand(drawer, orders):
    """The lines of a drawer that have what the job is still to order."""
    wanted = [order for order in orders if order.state == Order.State.WANTED]
    return [line for line in drawer if line.use is None and (line.free or 0) > 0 and of_part(wanted, line.part)]


@transaction.atomic
def put_aside(*, job: Job, kind: str, part: Part, by: User) -> StockUse:
    """Set one aside for the job, which need not order it then; one that lies aside already stays. Raises NotInStock."""
    part = KINDS[kind].model.objects.select_for_update().get(pk=part.pk)
    if held := job.stock_uses.filter(kind=kind, part=part.pk, state=StockUse.State.RESERVED).first():
        return held
    if (available(part, kind) or 0) < 1:
        raise NotInStock(f"No {part} left in stock. Recount, or order one.")
    made = StockUse.objects.create(job=job, kind=kind, part=part.pk, name=str(part), by=by)
    facts = {"use": made.pk, "part_kind": kind, "part": part.pk}
    record(job=job, by=by, kind=Event.Kind.PUT_ASIDE, data=facts, after=made.name)
    _turn_orders(job, part, by, before=Order.State.WANTED, after=Order.State.DROPPED)
    return made


@transaction.atomic
def take(*, job: Job, lines: Iterable[DrawerLine], by: User) -> None:
    """Set one aside of each of these parts; of what another job took meanwhile none."""
    for line in lines:
        with suppress(NotInStock):
            put_aside(job=job, kind=line.kind, part=line.part, by=by)


def _turn_orders(job: Job, part: Part, by: User, *, before: str, after: str) -> None:
    for order in of_part(job.orders.select_for_update().filter(state=before), part):
        order.state = after
        save_order(order=order, by=by)


@transaction.atomic
def settle(*, use: StockUse, state: str, by: User) -> StockUse:
    """Use up what was put aside, or put it back into the drawer; the job then has to order it again."""
    use = StockUse.objects.select_for_update().get(pk=use.pk)
    if use.state != StockUse.State.RESERVED:
        return use
    use.state = state
    use.save(update_fields=["state"])
    part = KINDS[use.kind].model.objects.select_for_update().filter(pk=use.part).first()
    if part is not None and state == StockUse.State.USED and part.in_stock:
        part.in_stock -= 1
        part.save(update_fields=["in_stock", "updated"])
    if part is not None and state == StockUse.State.RELEASED:
        _turn_orders(use.job, part, by, before=Order.State.DROPPED, after=Order.State.WANTED)
    facts = {"use": use.pk, "part_kind": use.kind, "part": use.part}
    event = Event.Kind.PART_USED if state == StockUse.State.USED else Event.Kind.PART_PUT_BACK
    record(job=use.job, by=by, kind=event, data=facts, after=use.name)
    return use


@transaction.atomic
def count(*, kind: str, part: Part, number: int, reason: str, by: User) -> None:
    """Set a drawer's count, with the reason."""
    part = KINDS[kind].model.objects.select_for_update().get(pk=part.pk)
    StockCount.objects.create(kind=kind, part=part.pk, before=part.in_stock, after=number, reason=reason, by=by)
    part.in_stock = number
    part.save(update_fields=["in_stock", "updated"])
