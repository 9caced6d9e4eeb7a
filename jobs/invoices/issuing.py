"""Issuing invoices and credit notes: numbered without gaps, and written once."""

from __future__ import annotations

import datetime as dt
from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from django.db import transaction
from django.utils import timezone

from jobs.history import record_of
from jobs.invoices.account import saved_account
from jobs.invoices.bill import Bill, bill_back, bill_of
from jobs.invoices.payments import Contradiction, hold
from jobs.models import Event, HolderOrder, Invoice, InvoiceLine, InvoiceSeries, InvoiceTax, Shop
from jobs.money.sums import ZERO
from jobs.shop.words import language_for, words_in

if TYPE_CHECKING:
    from decimal import Decimal

    from django.contrib.auth.models import User

    from jobs.models import Job

MOST_LETTERS = 400
"""What a line's text may hold."""


@dataclass(frozen=True, slots=True)
class Buyer:
    """Who an invoice is made out to."""

    name: str
    address: str
    country: str = ""


def next_number(prefix: str, *, first: int, year: int) -> str:
    """The next number of a series, such as 2026-0014. Its row stays locked until the transaction ends.

    A number that is taken in a transaction that fails is given again, so that none is missing.
    """
    series = prefix.replace("{year}", f"{year}")
    InvoiceSeries.objects.get_or_create(prefix=series, defaults={"last": first - 1})
    row = InvoiceSeries.objects.select_for_update().get(prefix=series)
    row.last += 1
    row.save(update_fields=["last"])
    return f"{series}{row.last:04d}"


@transaction.atomic
def issue(
    *,
    of: Job | HolderOrder,
    buyer: Buyer,
    supplied: dt.date,
    due_on: dt.date,
    by: User,
    language: str = "",
    **typed: Decimal,
) -> Invoice:
    """Invoice what was agreed, with what has been received set off, in the `language` asked for or the customer's.

    `typed` is the tax rate and the postage of a holder order. Raises Contradiction.
    """
    hold(of)
    if not (Shop.current().name and Shop.current().address):
        raise Contradiction("An invoice names your shop and its address. Enter both under Settings, Letterhead, first.")
    language = language_for(of.customer, Shop.current(), language)
    bill = bill_of(of, language=language, **typed)
    if standing := Invoice.standing(of):
        what = "order" if isinstance(of, HolderOrder) else "job"
        raise Contradiction(f"{standing} is issued for this {what}. Issue a credit note for all of it first.")
    if not bill.lines:
        raise Contradiction(f"{bill.quote} has no work and no parts to invoice.")
    dates, prepaid = {"supplied": supplied, "due_on": due_on}, saved_account(of).paid
    invoice = _write(bill, buyer, language, by, prepaid=prepaid, **dates)
    facts = {"invoice": invoice.pk, "number": invoice.number}
    record_of(of=of, by=by, kind=Event.Kind.INVOICED, data=facts)
    return invoice


@transaction.atomic
def credit(*, invoice: Invoice, lines: Sequence[InvoiceLine], reason: str, by: User) -> Invoice:
    """Take lines of an invoice back, to the same buyer on the same terms. Raises Contradiction for none."""
    hold(invoice.of)
    if invoice.kind != Invoice.Kind.INVOICE:
        raise Contradiction("A credit note is not credited. Issue a new invoice instead.")
    if not lines:
        raise Contradiction("Tick the lines to credit.")
    if gone := [line for line in lines if InvoiceLine.objects.filter(takes_back=line).exists()]:
        raise Contradiction(f"Credited already: {'; '.join(map(str, gone))}. Untick it.")
    buyer = Buyer(invoice.buyer_name, invoice.buyer_address, invoice.buyer_country)
    corrected = {"kind": Invoice.Kind.CREDIT, "corrects": invoice, "reason": reason, "supplied": invoice.supplied}
    made = _write(bill_back(invoice, lines), buyer, invoice.language, by, **corrected)
    facts_kept = {"invoice": made.pk, "number": made.number, "of": invoice.number}
    record_of(of=invoice.of, by=by, kind=Event.Kind.CREDITED, data=facts_kept, after=reason)
    return made


def _facts_of(shop, language):
    """What an invoice keeps of the shop; its name and address as the law knows them, in its own language."""
    return {
        "seller_name": shop.name,
        "seller_address": shop.address,
        "seller_country": shop.country,
        "seller_tax_number": shop.tax_number,
        "how_to_pay": words_in(shop, "how_to_pay", language),
        "no_tax_reason": words_in(shop, "no_tax_reason", language),
    }


def _to(buyer):
    return {"buyer_name": buyer.name, "buyer_address": buyer.address, "buyer_country": buyer.country}


def _write(bill: Bill, buyer: Buyer, language: str, by: User, **facts: Any) -> Invoice:
    """Take the next number and write the invoice with its lines and taxes."""
    shop, today, apart = Shop.current(), timezone.localdate(), bill.apart
    sums = apart.sums
    is_credit = facts.get("kind") == Invoice.Kind.CREDIT
    prefix = (is_credit and shop.credit_prefix) or shop.invoice_prefix
    invoice = Invoice.objects.create(
        number=next_number(prefix, first=shop.invoice_start, year=today.year),
        issued=today,
        language=language,
        quote=bill.quote,
        watch=bill.watch,
        currency=bill.currency,
        tax_inclusive=bill.tax_inclusive,
        discount=bill.discount,
        lines_net=sum(apart.lines, ZERO),
        discount_net=sum(apart.discounts.values(), ZERO),
        net=sums.net,
        tax=sums.tax,
        total=sums.total,
        due=sums.total - facts.get("prepaid", ZERO),
        by=by,
        **{bill.of.OWNER: bill.of},
        **_facts_of(shop, language),
        **_to(buyer),
        **facts,
    )
    for position, (line, net) in enumerate(zip(bill.lines, apart.lines, strict=True), start=1):
        InvoiceLine.objects.create(
            invoice=invoice,
            position=position,
            text=line.text[:MOST_LETTERS],
            quantity=line.quantity,
            price=line.price,
            net=net,
            tax_rate=line.tax_rate,
            takes_back=line.takes_back,
        )
    for tax in sums.taxes:
        discount_net = apart.discounts[tax.rate]
        InvoiceTax.objects.create(invoice=invoice, rate=tax.rate, net=tax.net, tax=tax.tax, discount_net=discount_net)
    return invoice
