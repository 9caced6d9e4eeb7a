"""A number measured while the fit check asks for it, stored with the part that it belongs to."""

from __future__ import annotations

from typing import TYPE_CHECKING

from django.core.exceptions import ValidationError
from django.db import transaction

from parts.library.measured import IN_A_LIST, put_in, taken_at
from parts.models import Pairing
from parts.pairings.placing import place_of

if TYPE_CHECKING:
    from parts.dimensions.in_hand import InHand

FIELD = "measured:"
"""Inputs of a page are called by this and the path in the sheet."""


@transaction.atomic
def store(*, pairing: Pairing, path: str, text: str, hand: InHand) -> None:
    """Put a number into the part that it belongs to. Raises ValidationError for what it cannot be."""
    taken = taken_at(path, text, hand)
    place = place_of(pairing, path)
    if place is None:
        raise ValidationError(IN_A_LIST)
    put_in(*place, taken, hand.source).save()
