"""A quote or an invoice goes out: written, printed and kept as one action."""

from __future__ import annotations

from typing import TYPE_CHECKING

from django.db import transaction

from jobs.invoices.issuing import Buyer, credit, issue
from jobs.invoices.ubl import missing, ubl
from jobs.models import PaperOut
from jobs.papers.making import keep_file, keep_paper
from jobs.quotes import versions

if TYPE_CHECKING:
    import datetime as dt
    from collections.abc import Sequence

    from django.contrib.auth.models import User

    from jobs.models import Invoice, InvoiceLine, Job, Quote


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
    *, job: Job, buyer: Buyer, supplied: dt.date, due_on: dt.date, address: str, by: User, language: str = ""
) -> Invoice:
    """Issue an invoice and keep its paper and its electronic form, in the `language` asked for or else the customer's.

    Raises Contradiction; nothing is changed then.
    """
    made = issue(job=job, buyer=buyer, supplied=supplied, due_on=due_on, by=by, language=language)
    _keep(made, address, by)
    return made


@transaction.atomic
def send_credit(*, invoice: Invoice, lines: Sequence[InvoiceLine], reason: str, address: str, by: User) -> Invoice:
    """Issue a credit note and keep its paper and its electronic form. Raises Contradiction; nothing is changed then."""
    made = credit(invoice=invoice, lines=lines, reason=reason, by=by)
    _keep(made, address, by)
    return made


def _keep(invoice, address, by):
    keep_paper(job=invoice.job, kind=invoice.kind, address=address, by=by, invoice=invoice, sees_money=True)
    if not missing(invoice):
        paper = PaperOut(
            job=invoice.job, kind=PaperOut.Kind.ELECTRONIC, invoice=invoice, language=invoice.language, by=by
        )
        keep_file(paper=paper, name=f"{invoice.job.number}-{invoice.kind}-{invoice.pk}.xml", content=ubl(invoice))
