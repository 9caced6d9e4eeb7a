"""The price list of holders and spacers: so much a piece and so much for each cm³ of its body."""

from __future__ import annotations

from decimal import Decimal
from typing import TYPE_CHECKING

from jobs.models import HolderPrice, Shop
from jobs.money.sums import ZERO, rounded
from parts.designs.files import volume_of

if TYPE_CHECKING:
    from parts.models import HolderDesign


def proposed_price(*, design: HolderDesign, material: str) -> Decimal | None:
    """The list price of one piece; None where the list has no line for its process and material, or no price in it."""
    line = _line(design.process, material)
    if line is None or (line.per_piece is None and line.per_cm3 is None):
        return None
    price = (line.per_piece or ZERO) + (line.per_cm3 or ZERO) * Decimal(volume_of(design)) / 1000
    return rounded(price, Shop.current().currency)


def _line(process, material):
    """The line of that material, however it is capitalised, else that of any other material."""
    lines = {line.material.casefold(): line for line in HolderPrice.objects.filter(process=process)}
    return lines.get(material.strip().casefold()) or lines.get("")
