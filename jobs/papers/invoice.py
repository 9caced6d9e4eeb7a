"""The paper of an issued invoice or credit note, and its electronic form."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from django.template.loader import render_to_string
from django.utils import timezone
from django.utils.translation import gettext

from jobs.invoices.ubl import missing, ubl
from jobs.language.choices import speaking, spoken
from jobs.models import PaperOut, Shop
from jobs.papers.making import counted, keep_file, letterhead
from jobs.shop.words import in_language
from parts.tools.papers.pdf import to_pdf

if TYPE_CHECKING:
    from django.contrib.auth.models import User

    from jobs.models import Invoice


def invoice_pdf(invoice: Invoice) -> bytes:
    """The PDF of an issued invoice or credit note, as it is kept, in its own language."""
    shop = Shop.current()
    with speaking(invoice.language):
        facts = _facts(invoice) | {
            "language": spoken(),
            "shop": in_language(shop, invoice.language),
            "has_logo": bool(shop.logo),
        }
        html = render_to_string(f"papers/{invoice.kind}.html", facts)
        return to_pdf(html, size=shop.paper, pictures=letterhead(shop), counted=counted())


def _facts(invoice: Invoice) -> dict[str, Any]:
    name = gettext("Credit note {number}") if invoice.corrects else gettext("Invoice {number}")
    taxes = list(invoice.taxes.all())
    return {
        "invoice": invoice,
        "job": invoice.job,
        "order": invoice.holder_order,
        "name": name.format(number=invoice.number),
        "lines": invoice.lines.all(),
        "taxes": [tax for tax in taxes if tax.rate],
        "untaxed": any(not tax.rate for tax in taxes),
    }


def keep_invoice(invoice: Invoice, *, by: User) -> None:
    """Keep the PDF of what is just issued, and its electronic form where nothing is missing for that."""
    of = invoice.job.number if invoice.job else f"order-{invoice.holder_order_id}"
    name = f"{of}-{invoice.kind}-{timezone.localtime():%Y%m%d-%H%M%S}.pdf"
    keep_file(paper=_paper(invoice, invoice.kind, by), name=name, content=invoice_pdf(invoice))
    if not missing(invoice):
        paper = _paper(invoice, PaperOut.Kind.ELECTRONIC, by)
        keep_file(paper=paper, name=f"{of}-{invoice.kind}-{invoice.pk}.xml", content=ubl(invoice))


def _paper(invoice, kind, by):
    return PaperOut(
        **{invoice.of.OWNER: invoice.of},
        invoice=invoice,
        kind=kind,
        language=invoice.language,
        by=by,
    )
