"""A number measured while the fit check asks for it, stored with the part that it belongs to."""

from __future__ import annotations

from typing import TYPE_CHECKING

from django.core.exceptions import ValidationError
from django.db import transaction

from parts.dimensions.form_field import DimensionField
from parts.models import Pairing
from parts.pairings.placing import place_of

if TYPE_CHECKING:
    from parts.dimensions.in_hand import InHand
    from parts.dimensions.readings import Taken

FIELD = "measured:"
"""Inputs of a page are called by this and the path in the sheet."""


def taken_at(path: str, text: str, hand: InHand, source: str = "") -> Taken:
    """What was typed for a number, read with the instrument in hand; ValidationError where that is nothing.

    `source` says where it comes from, if not from that instrument.
    """
    try:
        field = DimensionField.at(path, hand=hand)
    except (KeyError, ValueError) as error:
        raise ValidationError("No part has a number like that.") from error
    field.source = source
    taken = field.clean(text)
    if taken is None:
        raise ValidationError("Type the number that you measured.")
    return taken


@transaction.atomic
def store(*, pairing: Pairing, path: str, text: str, hand: InHand) -> None:
    """Put a number into the part that it belongs to. Raises ValidationError for what it cannot be."""
    taken = taken_at(path, text, hand)
    place = place_of(pairing, path)
    if place is None:
        raise ValidationError("This number stands in a list of its part. Open the part and type it there.")
    holder, dimension = place
    locked = type(holder)._base_manager.select_for_update().get(pk=holder.pk)
    dimension.put_taken(locked, taken, hand.source)
    dimension.check(locked)
    locked.save()
