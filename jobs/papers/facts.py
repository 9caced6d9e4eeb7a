"""What each paper says, gathered for its template."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from django.utils import timezone
from django.utils.safestring import mark_safe

from jobs import luminous
from jobs.money.sums import shown
from jobs.options.choosing import chosen_option, report_of
from jobs.papers import measuring_sheet
from jobs.papers.handover import handover
from jobs.papers.job_sheet import sheet
from jobs.papers.labels import SIZES
from jobs.quotes import versions
from parts.fit.drawings import foot_cutting_svg, foot_template_svg, window_svg
from parts.holder.drawings import pad_map_svg, pads_svg
from parts.holder.pads import pad_map
from parts.tools.papers.pdf import to_scale
from parts.tools.qr import qr_svg

if TYPE_CHECKING:
    from jobs.models import Job, Quote, Shop

OF_THE_DATE = ("date-present", "date-tilt", "date-position", "date-cut", "date-neighbours", "date-disc", "date-depth")
"""The checks whose lines in a quote are told with a picture of the date window."""


def common(job, address, shop):
    """What every paper may need: shop, job, day, and the code: what opens the job elsewhere, or its number alone."""
    return {
        "shop": shop,
        "has_logo": bool(shop.logo),
        "job": job,
        "customer": job.customer,
        "printed": timezone.localtime(),
        "code": mark_safe(qr_svg(address or job.number)),
    }


def receipt(job, **_):
    return {"conditions": job.conditions.all(), "cautions": luminous.CAUTIONS if luminous.is_blocked(job) else ()}


def label(job: Job, *, shop: Shop, place: int = 1, **_: Any) -> dict[str, Any]:
    """The tray's label; on a sheet, at that place of it."""
    size = SIZES[shop.label]
    return {"blocked": luminous.is_blocked(job), "size": size, "cells": size.cells(place) if size.page else None}


def quote(_job: Job, *, quote: Quote, **_: Any) -> dict[str, Any]:
    """The lines and sums of one version; what must be accepted stands apart, with the date window's picture."""
    ways = []
    for part in quote.parts.prefetch_related("lines"):
        part.quote = quote
        sums = versions.sums_of(part)
        lines = list(part.lines.all())
        report = report_of(part.option) if part.option else None
        ways.append(
            {
                "part": part,
                "lines": [(line, shown(line.price, quote.currency)) for line in lines if line.kind != "accept"],
                "choices": any(line.optional and line.kind != "accept" for line in lines),
                "accept": [line for line in lines if line.kind == "accept" and line.taken],
                "window": _window(report) if any(line.from_check in OF_THE_DATE for line in lines) else None,
                "sums": {
                    name: shown(getattr(sums, name), quote.currency)
                    for name in ("lines", "discount", "total", "deposit")
                },
                "taxes": [(tax.rate, shown(tax.tax, quote.currency)) for tax in sums.taxes],
            }
        )
    return {"quote": quote, "ways": ways}


def _window(report):
    return to_scale(window_svg, report, 60.0) if report else None


def template(job, **_):
    """The dial-foot template, its copy to cut and the pad map at 1:1; each None where its numbers are not measured."""
    option = chosen_option(job)
    report = report_of(option)
    facts = {"option": option, "report": report, "drawing": None, "pads": None}
    if report is None:
        return facts
    if report.foot_marks:
        facts |= {"drawing": mark_safe(foot_template_svg(report)), "cutting": mark_safe(foot_cutting_svg(report))}
    if pads := pad_map(report):
        facts |= {"pads": pads, "map": mark_safe(pad_map_svg(report, pads)), "to_cut": mark_safe(pads_svg(pads))}
    return facts


FACTS = {
    "receipt": receipt,
    "label": label,
    "quote": quote,
    "sheet": sheet,
    "measure": measuring_sheet.facts,
    "template": template,
    "handover": handover,
}
