"""Holders and spacers that others can order, as the site shows them: what each begins with, and its page's facts."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from django.utils.translation import gettext as _

from jobs.holder_orders.prices import proposed_price
from jobs.language.choices import speaking
from jobs.language.formats import number
from jobs.models import HolderPrice
from parts.designs.revisions import parameters_of
from parts.designs.workbench import bench_of
from parts.holder.drawings import picture_svg
from parts.holder.findings.design import work_out
from parts.holder.parameters.to_measure import sizes_of

if TYPE_CHECKING:
    import datetime as dt

    from django.utils.safestring import SafeString

    from jobs.models import WindowHolder
    from jobs.window.pieces import Price, Said
    from parts.models import HolderDesign


_LAYERS = 12
"""Of the drawing: few enough for a page that loads at once."""


@dataclass(eq=False)
class ToOrder:
    """One holder or spacer in one language; `sizes` are (what, how much with its unit)."""

    code: str
    path: str
    title: Said
    story: Said
    materials: list[Said]
    price: Price
    sizes: list[tuple[str, str]]
    drawing: SafeString
    case: str
    movement: str
    updated: dt.datetime


def path_of(holder: WindowHolder) -> str:
    """The address of its page in its language's folder; it stays, whatever it is called."""
    return f"holders/{holder.code.lower()}.html"


def proposed_title(design: HolderDesign, language: str) -> str:
    """What it is called before anybody words it, in a language."""
    with speaking(language):
        words = (
            _("Holder ring for {case} with {movement}")
            if design.kind == "ring"
            else _("Spacer for {case} with {movement}")
        )
        return words.format(case=design.family, movement=design.movement)[:120]


def proposed_holder(design: HolderDesign, language: str) -> dict[str, Any]:
    """What its entry begins with, in a language: title, materials of the price list, the lowest price of those."""
    lines = HolderPrice.objects.filter(process=design.process)
    materials = [line.material for line in lines if line.material]
    prices = [proposed_price(design=design, material=line.material) for line in lines]
    least = min((price for price in prices if price is not None), default=None)
    return {"title": proposed_title(design, language), "materials": "\n".join(materials), "price_from": least}


def sizes_in_words(design: HolderDesign) -> list[tuple[str, str]]:
    """Its drawn dimensions in the language that is spoken now."""
    sizes = sizes_of(parameters_of(design))
    return [(_(size.label.capitalize()), f"{number(size.drawn, 2)}\xa0mm") for size in sizes]


def picture_of(design: HolderDesign) -> str:
    """The piece as it stands in space, drawn."""
    return picture_svg(work_out(parameters_of(design), bench_of(design).around), layers=_LAYERS)
