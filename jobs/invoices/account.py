"""What a job or a holder order comes to, what has been paid of it, and what is owed."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from decimal import Decimal
from typing import TYPE_CHECKING, Any

from jobs.models import HolderOrder, Invoice, Payment, Quote, Shop
from jobs.money.sums import ZERO, Amount, totals
from jobs.quotes.ways import Way, ways_of

if TYPE_CHECKING:
    from jobs.models import Job


@dataclass(frozen=True, slots=True)
class Account:
    """Money of a job or an order in one currency; `total` is None while nothing is agreed.

    Payments undone do not count.

    The total is what was invoiced, less what was credited; what was agreed, while nothing is invoiced.
    """

    currency: str
    total: Decimal | None
    is_invoiced: bool
    deposit: Decimal
    paid: Decimal
    elsewhere: list[Payment]
    """Payments in another currency, which are not counted."""

    @property
    def owed(self) -> Decimal | None:
        """What is still to be paid; below 0 where more was paid than is owed."""
        return None if self.total is None else self.total - self.paid

    @property
    def too_much(self) -> Decimal:
        """What was paid beyond the total; 0 while no total is known."""
        return max(-self.owed, ZERO) if self.owed is not None else ZERO

    @property
    def deposit_owed(self) -> Decimal:
        """What of the agreed deposit is still to be paid; 0 once an invoice is out."""
        return ZERO if self.is_invoiced else max(self.deposit - self.paid, ZERO)

    @property
    def says_anything(self) -> bool:
        return self.total is not None or bool(self.paid)


def account_of(
    *, quotes: Iterable[Quote], payments: Sequence[Payment], invoices: Sequence[Invoice], shop: Shop
) -> Account:
    """The account by these quotes, payments and invoices of one job, as a page has read them already.

    It is in the currency of what was agreed; else of the latest payment, or of the `shop`.
    """
    way = accepted_way(quotes)
    if way:
        currency, agreed, deposit = way.part.quote.currency, way.sums.total, way.sums.deposit
    else:
        counting = [payment for payment in payments if not payment.undone]
        currency, agreed, deposit = counting[-1].currency if counting else shop.currency, None, ZERO
    return _account(currency, agreed, deposit, payments, invoices)


def account_of_order(
    *, order: HolderOrder, payments: Sequence[Payment], invoices: Sequence[Invoice], shop: Shop
) -> Account:
    """The same of a holder order: agreed is its price with the shop's tax; nothing of one that is cancelled."""
    agreed = (
        None
        if order.price is None
        else totals([Amount(order.price, shop.tax_rate)], currency=shop.currency, inclusive=shop.tax_inclusive).total
    )
    if order.state == HolderOrder.State.CANCELLED:
        agreed = ZERO
    return _account(invoices[0].currency if invoices else shop.currency, agreed, ZERO, payments, invoices)


def saved_account(of: Job | HolderOrder) -> Account:
    """The account as it is saved now."""
    saved: Any = {"payments": list(of.payments.all()), "invoices": list(of.invoices.all()), "shop": Shop.current()}
    return (
        account_of_order(order=of, **saved)
        if isinstance(of, HolderOrder)
        else account_of(quotes=of.quotes.all(), **saved)
    )


def _account(currency, agreed, deposit, payments, invoices):
    counting = [payment for payment in payments if not payment.undone]
    billed = [invoice.signed_total for invoice in invoices]
    return Account(
        currency=currency,
        total=sum(billed, ZERO) if billed else agreed,
        is_invoiced=bool(billed),
        deposit=deposit,
        paid=sum((payment.received for payment in counting if payment.currency == currency), ZERO),
        elsewhere=[payment for payment in counting if payment.currency != currency],
    )


def accepted_way(quotes: Iterable[Quote]) -> Way | None:
    """What the customer accepted; None while nothing is."""
    quote = next((quote for quote in quotes if quote.state == Quote.State.ACCEPTED), None)
    return next((way for way in ways_of(quote=quote) if way.part.accepted), None) if quote else None
