"""A number measured while the fit check asks for it, or tried there, stored with the part that it belongs to."""

from __future__ import annotations

from typing import TYPE_CHECKING

from django.core.exceptions import ValidationError
from django.db import transaction
from django.urls import reverse

from parts.library.measured import IN_A_LIST, put_in, taken_at
from parts.models import Pairing
from parts.pairings.placing import field_of, place_of

if TYPE_CHECKING:
    from parts.dimensions.in_hand import InHand

FIELD = "measured:"
"""Inputs of a page are called by this and the path in the sheet."""
STORE, STORE_TRIED = "store", "store-tried"
"""The buttons that store a number by its path: what was typed as measured, and what is tried in the slot."""
OTHER_PART = "The page shows another part here than the saved fit check has. Save the fit check first."


@transaction.atomic
def store(*, pairing: Pairing, path: str, text: str, hand: InHand) -> None:
    """Put a number into the part that it belongs to. Raises ValidationError for what it cannot be."""
    taken = taken_at(path, text, hand)
    place = place_of(pairing, path)
    if place is None:
        raise ValidationError(IN_A_LIST)
    put_in(*place, taken, hand.source).save()


def measured_address(pairing: Pairing) -> str:
    """Where a number is sent that was measured for the pairing: a job's goes into the job's record of measurements."""
    if pairing.is_of_a_job:
        return reverse("jobs:measured-now", args=[pairing.made_for, pairing.pk])
    return reverse("parts:measured", args=[pairing.pk])


def has_a_part(pairing: Pairing, path: str) -> bool:
    """Whether a number at the path can belong to a part of the library; limits and a spacer's thickness do not."""
    part = path.partition(".")[0]
    return bool(pairing.pk) and part not in ("rules", "spacer") and part not in pairing.typed_parts


def same_part(saved: Pairing, shown: Pairing, path: str) -> bool:
    """Whether the page's number at the path is one of the part that the saved pairing has there."""
    if not has_a_part(saved, path) or "." not in path:
        return True
    keys = [getattr(pairing, f"{field_of(pairing, path)}_id", None) for pairing in (saved, shown)]
    return keys[0] == keys[1]
