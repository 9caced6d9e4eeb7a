"""A quote or an invoice goes out: written, printed and kept as one action."""

from __future__ import annotations

from typing import TYPE_CHECKING

from django.db import transaction

from jobs.invoices.issuing import Buyer, credit, issue
from jobs.papers.invoice import keep_invoice
from jobs.papers.making import keep_paper
from jobs.quotes import versions

if TYPE_CHECKING:
    import datetime as dt
    from collections.abc import Sequence
    from decimal import Decimal

    from django.contrib.auth.models import User

    from jobs.models import HolderOrder, Invoice, InvoiceLine, Job, Quote


@transaction.atomic
def send_quote(*, quote: Quote, address: str, by: User) -> Quote:
    """Freeze a draft and keep the paper that goes out; `address` is what its code opens.

    Raises Frozen for one that is out, NotReady for one that cannot go out yet; nothing is changed then, nor where the
    paper cannot be kept.
    """
    sent = versions.send(quote=quote, by=by)
    keep_paper(job=sent.job, kind="quote", address=address, by=by, quote=sent)
    return sent


@transaction.atomic
def send_invoice(
    *,
    of: Job | HolderOrder,
    buyer: Buyer,
    supplied: dt.date,
    due_on: dt.date,
    by: User,
    language: str = "",
    **typed: Decimal,
) -> Invoice:
    """Issue an invoice as `issue` does, and keep its paper and its electronic form.

    Raises Contradiction; nothing is changed then.
    """
    made = issue(of=of, buyer=buyer, supplied=supplied, due_on=due_on, by=by, language=language, **typed)
    keep_invoice(made, by=by)
    return made


@transaction.atomic
def send_credit(*, invoice: Invoice, lines: Sequence[InvoiceLine], reason: str, by: User) -> Invoice:
    """Issue a credit note and keep its paper and its electronic form. Raises Contradiction; nothing is changed then."""
    made = credit(invoice=invoice, lines=lines, reason=reason, by=by)
    keep_invoice(made, by=by)
    return made
