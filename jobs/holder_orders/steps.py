"""An order on its way: taken, made, checked, sent, and each step undone."""

from __future__ import annotations

from typing import TYPE_CHECKING

from django.db import transaction
from django.utils import timezone

from jobs.holder_orders.measuring import measured_pieces
from jobs.holder_orders.prices import proposed_price
from jobs.models import Customer, HolderOrder, Invoice

if TYPE_CHECKING:
    from django.contrib.auth.models import User


_DAYS = {
    HolderOrder.State.MAKE: "made_on",
    HolderOrder.State.CHECK: "checked_on",
    HolderOrder.State.SEND: "sent_on",
}
"""The day that ends each open state."""
_BACK = {"check": "made_on", "send": "checked_on", "sent": "sent_on"}
"""The day that is cleared to go one step back."""


class NotNow(ValueError):
    """The order is not where this can be done; says why."""


@transaction.atomic
def take(*, order: HolderOrder, customer: Customer, by: User) -> HolderOrder:
    """Save a new order; a new customer is saved."""
    if customer.pk is None:
        customer.save()
    order.customer, order.by = customer, by
    return change(order=order)


def change(*, order: HolderOrder) -> HolderOrder:
    """Save what is ordered; without a price it takes the list's, if that has one."""
    if order.price_each is None:
        order.price_each = proposed_price(design=order.design, material=order.material)
    order.save()
    return order


@transaction.atomic
def forward(*, order: HolderOrder, seen: str, by_hand: bool = False) -> HolderOrder:
    """End the state that the page showed; `by_hand` says that the pieces are collected.

    Raises NotNow where the order is elsewhere by now, where nothing is measured, or no address is known to send it to.
    """
    order = _held(order)
    if order.state != seen or seen not in _DAYS:
        raise NotNow(f"This order has moved on: it is {order.get_state_display()} now. Nothing was changed.")
    if seen == HolderOrder.State.CHECK and not any(piece.is_good for piece in measured_pieces(order)):
        raise NotNow("No piece is measured within its limits yet. Measure one at least.")
    if seen == HolderOrder.State.SEND:
        if not (by_hand or order.customer.address.strip()):
            raise NotNow("No address is noted. Type it, or say that the pieces are collected by hand.")
        order.by_hand = by_hand
    setattr(order, _DAYS[HolderOrder.State(seen)], timezone.localdate())
    return _settled(order)


def note_address(*, order: HolderOrder, address: str) -> bool:
    """Give the order's customer an address; False where there is one by now."""
    return bool(Customer.objects.filter(pk=order.customer_id, address="").update(address=address))


@transaction.atomic
def back(*, order: HolderOrder) -> HolderOrder:
    """Undo the last step. Raises NotNow where there is none, or where feedback hangs on it."""
    order = _held(order)
    if order.feedback:
        raise NotNow("Undo the feedback first.")
    if order.state not in _BACK:
        raise NotNow("There is no step to undo.")
    setattr(order, _BACK[order.state], None)
    order.by_hand = False
    return _settled(order)


@transaction.atomic
def cancel(*, order: HolderOrder, reason: str) -> HolderOrder:
    """Cancel an order that is not sent; it can be opened again. Raises NotNow."""
    order = _held(order)
    if not order.is_open:
        raise NotNow(f"This order is {order.get_state_display()}. It cannot be cancelled.")
    if invoice := Invoice.standing(order):
        raise NotNow(f"{invoice} rests on this order. Issue a credit note for all of it first.")
    order.state, order.reason = HolderOrder.State.CANCELLED, reason
    order.save()
    return order


@transaction.atomic
def reopen(*, order: HolderOrder) -> HolderOrder:
    """Open a cancelled order where it was. Raises NotNow."""
    order = _held(order)
    if order.state != HolderOrder.State.CANCELLED:
        raise NotNow("This order is not cancelled.")
    order.reason = ""
    return _settled(order)


def _held(order):
    return HolderOrder.objects.select_for_update(of=("self",)).select_related("design", "customer").get(pk=order.pk)


def _settled(order):
    order.settle_state()
    order.save()
    return order
