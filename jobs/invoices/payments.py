"""Noting payments, and undoing them."""

from __future__ import annotations

from typing import TYPE_CHECKING

from django.db import transaction

from jobs.history import record_of
from jobs.invoices.account import saved_account
from jobs.models import Event, HolderOrder, Job, Payment
from jobs.money.sums import shown

if TYPE_CHECKING:
    from django.contrib.auth.models import User


class Contradiction(ValueError):
    """What is said about money cannot be; says why, and what to do."""


def hold(of: Job | HolderOrder) -> None:
    """Lock the row of a job or an order until the transaction ends."""
    type(of).objects.select_for_update().get(pk=of.pk)


@transaction.atomic
def take(*, payment: Payment, by: User) -> Payment:
    """Save a new payment in the account's currency. Raises Contradiction for more paid back than was paid."""
    hold(payment.of)
    account = saved_account(payment.of)
    if account.paid + payment.received < 0:
        raise Contradiction(
            f"{shown(payment.amount, account.currency)} cannot be paid back: {shown(account.paid, account.currency)} "
            "was received. Enter that or less."
        )
    payment.currency, payment.by = account.currency, by
    payment.save()
    record_of(of=payment.of, by=by, kind=Event.Kind.PAYMENT, data=_facts(payment))
    return payment


@transaction.atomic
def undo(*, payment: Payment, by: User) -> None:
    """Undo a payment; it stays on record. Raises Contradiction where what was paid back would be more than is left."""
    hold(payment.of)
    payment = Payment.objects.get(pk=payment.pk)
    if payment.undone:
        return
    account = saved_account(payment.of)
    if payment.currency == account.currency and account.paid - payment.received < 0:
        raise Contradiction("More would be paid back than was received. Undo what was paid back first.")
    payment.undone = True
    payment.save(update_fields=["undone"])
    record_of(of=payment.of, by=by, kind=Event.Kind.PAYMENT_UNDONE, data=_facts(payment))


def _facts(payment):
    """What the history keeps of a payment; not its amount."""
    return {"payment": payment.pk, "purpose": payment.purpose, "how": payment.how}
