"""Papers of a holder order: the label on its bag and the delivery note, both in the customer's language."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from django.template.loader import render_to_string
from django.utils import timezone
from django.utils.safestring import mark_safe
from django.utils.translation import gettext_noop as _

from jobs.holder_orders.measuring import measured_pieces
from jobs.invoices.pieces import kind_of
from jobs.language.choices import speaking, spoken
from jobs.models import Shop
from jobs.papers.labels import SIZES
from jobs.papers.making import counted, letterhead
from jobs.shop.words import in_language, language_for
from parts.tools.papers.pdf import to_pdf
from parts.tools.qr import qr_svg

if TYPE_CHECKING:
    from jobs.models import HolderOrder

SIZE_WORDS = (
    _("Outside diameter"),
    _("Inside diameter"),
    _("Height"),
    _("Thickness"),
    _("Outer step, diameter"),
    _("Inner step, diameter"),
    _("Outside, from 12 to 6 o'clock"),
    _("Outside, from 9 to 3 o'clock"),
    _("Inside, from 12 to 6 o'clock"),
    _("Inside, from 9 to 3 o'clock"),
    _("Outer step, from 12 to 6 o'clock"),
    _("Outer step, from 9 to 3 o'clock"),
    _("Inner step, from 12 to 6 o'clock"),
    _("Inner step, from 9 to 3 o'clock"),
    _("Stem channel, width"),
    _("Stem channel, from the dial side to its axis"),
)
"""The words of the dimensions that are measured, as they begin a line, for their translation."""


def label_pdf(order: HolderOrder, *, address: str, place: int = 1) -> bytes:
    """The label; `address` is what its code opens, `place` where it lies on a sheet."""
    shop = Shop.current()
    size = SIZES[shop.label]
    cells = size.cells(place) if size.page else None
    facts = {"code": mark_safe(qr_svg(address or str(order))), "label": "papers/_holder_label.html", "cells": cells}
    return _pdf(order, "holder_label", shop, size.paper, facts)


def delivery_note_pdf(order: HolderOrder) -> bytes:
    """The delivery note: what is sent, and what the pieces measured beside the drawing."""
    shop = Shop.current()
    return _pdf(order, "delivery_note", shop, shop.paper, {"checked": _checked(order), "unit": "mm"})


def _pdf(order, template, shop, size, facts: dict[str, Any]):
    language = language_for(order.customer, shop)
    with speaking(language):
        common = {
            "language": spoken(),
            "shop": in_language(shop, language),
            "has_logo": bool(shop.logo),
            "customer": order.customer,
            "order": order,
            "kind": kind_of(order),
            "sent": order.sent_on or timezone.localdate(),
        }
        html = render_to_string(f"papers/{template}.html", common | facts)
        return to_pdf(html, size=size, pictures=letterhead(shop), counted=counted())


def _checked(order):
    """The sizes that were measured of pieces that are good: (name, drawn, limit, least, most), mm."""
    good = [piece for piece in measured_pieces(order) if piece.is_good]
    rows = []
    for sizes in zip(*(piece.sizes for piece in good), strict=True):
        values = [each.value for each in sizes if each.value is not None]
        if values:
            size = sizes[0].size
            rows.append((size.label.capitalize(), size.drawn, size.off, min(values), max(values)))
    return rows
