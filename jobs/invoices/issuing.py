"""Issuing invoices and credit notes: numbered without gaps, and written once."""

from __future__ import annotations

import datetime as dt
from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from django.db import transaction
from django.utils import timezone

from jobs.history import record
from jobs.invoices.account import accepted_way, saved_account
from jobs.invoices.payments import Contradiction
from jobs.models import Event, Invoice, InvoiceLine, InvoiceSeries, InvoiceTax, Job, Shop
from jobs.money.sums import ZERO, Amount
from jobs.money.without_tax import WithoutTax, without_tax
from jobs.quotes.composed import say
from jobs.shop.words import language_for, words_in

if TYPE_CHECKING:
    from django.contrib.auth.models import User


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
def issue(*, job: Job, buyer: Buyer, supplied: dt.date, due_on: dt.date, by: User, language: str = "") -> Invoice:
    """Invoice what was accepted, with what has been received set off, in the `language` asked for or the customer's.

    Raises Contradiction.
    """
    Job.objects.select_for_update().get(pk=job.pk)
    if not (Shop.current().name and Shop.current().address):
        raise Contradiction("An invoice names your shop and its address. Enter both under Settings, Letterhead, first.")
    way = accepted_way(job.quotes.all())
    if way is None:
        raise Contradiction("Nothing is agreed yet: an invoice is made of an accepted quote.")
    if standing := Invoice.standing(job):
        raise Contradiction(f"{standing} is issued for this job. Issue a credit note for all of it first.")
    lines = [line for _, group in way.groups for line in group if line.taken]
    if not lines:
        raise Contradiction(f"{way.part.quote} has no work and no parts to invoice.")
    quote, account = way.part.quote, saved_account(job)
    amounts = [Amount(line.price or ZERO, line.tax_rate) for line in lines]
    terms: dict[str, Any] = {"currency": quote.currency, "inclusive": quote.tax_inclusive, "by_line": quote.tax_by_line}
    apart = without_tax(amounts, discount_percent=quote.discount, **terms)
    language = language_for(job.customer, Shop.current(), language)
    say(lines, language=language, written=quote.language)
    invoice = _write(
        _facts_of(Shop.current(), language) | _to(buyer),
        apart,
        [{"text": line.text, "price": line.price, "tax_rate": line.tax_rate} for line in lines],
        job=job,
        language=language,
        quote=quote,
        watch=quote.watch,
        supplied=supplied,
        due_on=due_on,
        prepaid=account.paid,
        by=by,
    )
    facts = {"invoice": invoice.pk, "number": invoice.number}
    record(job=job, by=by, kind=Event.Kind.INVOICED, data=facts)
    return invoice


@transaction.atomic
def credit(*, invoice: Invoice, lines: Sequence[InvoiceLine], reason: str, by: User) -> Invoice:
    """Take lines of an invoice back, to the same buyer on the same terms. Raises Contradiction for none."""
    Job.objects.select_for_update().get(pk=invoice.job_id)
    if invoice.kind != Invoice.Kind.INVOICE:
        raise Contradiction("A credit note is not credited. Issue a new invoice instead.")
    if not lines:
        raise Contradiction("Tick the lines to credit.")
    if gone := [line for line in lines if InvoiceLine.objects.filter(takes_back=line).exists()]:
        raise Contradiction(f"Credited already: {'; '.join(map(str, gone))}. Untick it.")
    amounts = [Amount(line.price, line.tax_rate) for line in lines]
    terms: dict[str, Any] = {
        "currency": invoice.currency,
        "inclusive": invoice.tax_inclusive,
        "by_line": invoice.quote.tax_by_line,
    }
    apart = without_tax(amounts, discount_percent=invoice.discount, **terms)
    facts = [{"text": each.text, "price": each.price, "tax_rate": each.tax_rate, "takes_back": each} for each in lines]
    buyer = Buyer(invoice.buyer_name, invoice.buyer_address, invoice.buyer_country)
    made = _write(
        _facts_of(Shop.current(), invoice.language) | _to(buyer),
        apart,
        facts,
        kind=Invoice.Kind.CREDIT,
        corrects=invoice,
        reason=reason,
        job=invoice.job,
        language=invoice.language,
        quote=invoice.quote,
        watch=invoice.watch,
        supplied=invoice.supplied,
        by=by,
    )
    facts_kept = {"invoice": made.pk, "number": made.number, "of": invoice.number}
    record(job=invoice.job, by=by, kind=Event.Kind.CREDITED, data=facts_kept, after=reason)
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


def _write(parties: dict[str, str], apart: WithoutTax, lines: list[dict[str, Any]], **facts: Any) -> Invoice:
    """Take the next number and write the invoice with its lines and taxes."""
    shop, today, sums = Shop.current(), timezone.localdate(), apart.sums
    is_credit = facts.get("kind") == Invoice.Kind.CREDIT
    prefix = (is_credit and shop.credit_prefix) or shop.invoice_prefix
    invoice = Invoice.objects.create(
        number=next_number(prefix, first=shop.invoice_start, year=today.year),
        issued=today,
        currency=facts["quote"].currency,
        tax_inclusive=facts["quote"].tax_inclusive,
        discount=facts["quote"].discount,
        lines_net=sum(apart.lines, ZERO),
        discount_net=sum(apart.discounts.values(), ZERO),
        net=sums.net,
        tax=sums.tax,
        total=sums.total,
        due=sums.total - facts.get("prepaid", ZERO),
        **parties,
        **facts,
    )
    for position, (line, net) in enumerate(zip(lines, apart.lines, strict=True), start=1):
        InvoiceLine.objects.create(invoice=invoice, position=position, net=net, **line)
    for tax in sums.taxes:
        discount_net = apart.discounts[tax.rate]
        InvoiceTax.objects.create(invoice=invoice, rate=tax.rate, net=tax.net, tax=tax.tax, discount_net=discount_net)
    return invoice
