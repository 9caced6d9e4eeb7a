"""What an invoice is made of: the accepted quote of a job, or the pieces of a holder order."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal
from typing import TYPE_CHECKING, Any

from django.utils.translation import gettext as _

from jobs.invoices.account import accepted_way
from jobs.invoices.payments import Contradiction
from jobs.invoices.pieces import piece_of
from jobs.language.choices import speaking
from jobs.models import HolderOrder, Shop
from jobs.money.sums import MOST_MONEY, ZERO, Amount
from jobs.money.without_tax import WithoutTax, without_tax
from jobs.quotes.composed import say

if TYPE_CHECKING:
    from jobs.models import Invoice, InvoiceLine, Job, Quote


@dataclass(frozen=True, slots=True)
class BillLine:
    """A line: `price` is that of all its pieces, `takes_back` the invoice's line that a credit note takes back."""

    text: str
    price: Decimal
    tax_rate: Decimal
    quantity: int = 1
    takes_back: InvoiceLine | None = None


@dataclass(frozen=True, slots=True)
class Bill:
    """Lines and terms; `quote` is None for a holder order, which has no discount and its tax reckoned on the sum."""

    of: Job | HolderOrder
    lines: Sequence[BillLine]
    currency: str
    tax_inclusive: bool
    quote: Quote | None = None
    watch: str = ""
    discount: Decimal = ZERO

    @property
    def apart(self) -> WithoutTax:
        """Its sums, and each line without tax."""
        terms: dict[str, Any] = {"currency": self.currency, "inclusive": self.tax_inclusive}
        by_line = self.quote is not None and self.quote.tax_by_line
        amounts = [Amount(line.price, line.tax_rate) for line in self.lines]
        return without_tax(amounts, discount_percent=self.discount, by_line=by_line, **terms)

    @property
    def taxes(self) -> list[tuple[Decimal, Decimal]]:
        """(rate in percent, tax) of each rate that is not 0."""
        return [(tax.rate, tax.tax) for tax in self.apart.sums.taxes if tax.rate]


def bill_of(of: Job | HolderOrder, *, language: str = "", **typed: Decimal) -> Bill:
    """The bill, its words in that language; `typed` as in `bill_of_order`. Raises Contradiction while none can be."""
    return bill_of_order(of, language=language, **typed) if isinstance(of, HolderOrder) else bill_of_job(of, language)


def bill_of_job(job: Job, language: str = "") -> Bill:
    """What was accepted, as it was quoted or in the `language` asked for. Raises Contradiction where nothing is."""
    way = accepted_way(job.quotes.all())
    if way is None:
        raise Contradiction("Nothing is agreed yet: an invoice is made of an accepted quote.")
    quote, lines = way.part.quote, [line for _, group in way.groups for line in group if line.taken]
    say(lines, language=language or quote.language, written=quote.language)
    return Bill(
        of=job,
        lines=[BillLine(line.text, line.price or ZERO, line.tax_rate) for line in lines],
        currency=quote.currency,
        tax_inclusive=quote.tax_inclusive,
        quote=quote,
        watch=quote.watch,
        discount=quote.discount,
    )


def bill_of_order(
    order: HolderOrder, *, language: str = "", tax_rate: Decimal | None = None, postage: Decimal | None = None
) -> Bill:
    """The pieces, and `postage` where it is charged, at the `tax_rate` in percent or the shop's. Raises Contradiction.

    Prices are those of the shop: in its currency, with tax or without.
    """
    shop = Shop.current()
    rate = shop.tax_rate if tax_rate is None else tax_rate
    if order.state == HolderOrder.State.CANCELLED:
        raise Contradiction("This order is cancelled. There is nothing to invoice.")
    if order.price is None:
        raise Contradiction("These pieces have no price yet. Change the order, and give them one.")
    if order.price > MOST_MONEY:
        raise Contradiction(f"{order.pieces_word} come to more than one line of an invoice can hold: {MOST_MONEY}.")
    with speaking(language):
        lines = [BillLine(piece_of(order), order.price, rate, order.count)]
        lines += [BillLine(_("Postage"), postage, rate)] if postage else []
    return Bill(of=order, lines=lines, currency=shop.currency, tax_inclusive=shop.tax_inclusive)


def bill_back(invoice: Invoice, lines: Sequence[InvoiceLine]) -> Bill:
    """Lines of an issued invoice taken back, on its own terms."""
    return Bill(
        of=invoice.of,
        lines=[BillLine(line.text, line.price, line.tax_rate, line.quantity, line) for line in lines],
        currency=invoice.currency,
        tax_inclusive=invoice.tax_inclusive,
        quote=invoice.quote,
        watch=invoice.watch,
        discount=invoice.discount,
    )
