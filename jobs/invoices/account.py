"""What a job comes to, what has been paid of it, and what is owed."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from decimal import Decimal
from typing import TYPE_CHECKING

from jobs.models import Invoice, Payment, Quote, Shop
from jobs.money.sums import ZERO
from jobs.quotes.ways import Way, ways_of

if TYPE_CHECKING:
    from jobs.models import Job


@dataclass(frozen=True, slots=True)
class Account:
    """A job's money in one currency; `total` is None while nothing is agreed. Payments undone do not count.

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
    way, counting = accepted_way(quotes), [payment for payment in payments if not payment.undone]
    billed = [invoice.signed_total for invoice in invoices]
    currency = _currency(way, counting, shop)
    return Account(
        currency=currency,
        total=sum(billed, ZERO) if billed else way.sums.total if way else None,
        is_invoiced=bool(billed),
        deposit=way.sums.deposit if way else ZERO,
        paid=sum((payment.received for payment in counting if payment.currency == currency), ZERO),
        elsewhere=[payment for payment in counting if payment.currency != currency],
    )


def saved_account(job: Job) -> Account:
    """The account as it is saved now."""
    payments, invoices = list(job.payments.all()), list(job.invoices.all())
    return account_of(quotes=job.quotes.all(), payments=payments, invoices=invoices, shop=Shop.current())


def accepted_way(quotes: Iterable[Quote]) -> Way | None:
    """What the customer accepted; None while nothing is."""
    quote = next((quote for quote in quotes if quote.state == Quote.State.ACCEPTED), None)
    return next((way for way in ways_of(quote=quote) if way.part.accepted), None) if quote else None


def _currency(way, payments, shop):
    if way:
        return way.part.quote.currency
    return payments[-1].currency if payments else shop.currency
