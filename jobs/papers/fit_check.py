"""The report of a fit check as a paper of the shop: its letterhead, its paper size, and the job that it is for."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from django.template.loader import render_to_string

from jobs.models import Job, Shop
from jobs.papers.making import letterhead
from parts.dimensions.in_hand import NOTHING_IN_HAND
from parts.pairings.paper import report_facts
from parts.tools.papers.pdf import to_pdf

if TYPE_CHECKING:
    from collections.abc import Sequence

    from parts.dimensions.in_hand import InHand
    from parts.fit import Report
    from parts.models import Pairing


def fit_check_pdf(
    *, pairing: Pairing, report: Report, hand: InHand = NOTHING_IN_HAND, changed: Sequence[Any] = ()
) -> bytes:
    """The PDF's bytes; `changed` tells the what-if numbers that the report was made with, `hand` the instruments."""
    shop = Shop.current()
    job = Job.objects.filter(options__pairing=pairing).first() if pairing.pk else None
    facts = report_facts(pairing=pairing, report=report, hand=hand, changed=changed)
    html = render_to_string("papers/fit_check.html", {"shop": shop, "has_logo": bool(shop.logo), "job": job} | facts)
    return to_pdf(html, size=shop.paper, pictures=letterhead(shop))
