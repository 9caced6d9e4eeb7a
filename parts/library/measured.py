"""A number that is measured now and belongs into a part: read with what is in hand, stored with how it was taken."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from django.core.exceptions import ValidationError
from django.db import transaction
from django.utils.translation import gettext_lazy as lazy

from parts.dimensions.field import refused_words
from parts.dimensions.form_field import DimensionField
from parts.models import HandSet
from parts.sheets import contradiction, rows_of

if TYPE_CHECKING:
    from parts.dimensions.field import Dimension
    from parts.dimensions.in_hand import InHand
    from parts.dimensions.readings import Taken

IN_A_LIST = "This number stands in a list of its part. Open the part and type it there."
"""Said of a number that has no place of its own in its part, such as that of a foot."""


def taken_at(path: str, text: str, hand: InHand, source: str = "") -> Taken:
    """What was typed for a number, read with the instrument in hand; ValidationError where that is nothing.

    `source` says where it comes from, if not from that instrument.
    """
    try:
        field = DimensionField.at(path, hand=hand)
    except (KeyError, ValueError) as error:
        raise ValidationError(lazy("No part has a number like that.")) from error
    field.source = source
    taken = field.clean(text)
    if taken is None:
        raise ValidationError(lazy("Type the number that you measured."))
    return taken


def place_in(part: Any, path: str) -> tuple[Any, Dimension] | None:
    """The record and the Dimension of a number of a part; None for rows of a list, and for what it has not."""
    if isinstance(part, HandSet):
        _, role, name = (*path.split("."), "", "")[:3]
        hand = next((hand for hand in part.hands.all() if hand.role == role), None)
        return (hand, hand.dimensions[name]) if hand and name in hand.dimensions else None
    dimension = next((dimension for dimension in part.dimensions.values() if dimension.path == path), None)
    return (part, dimension) if dimension else None


def put_in(holder: Any, dimension: Dimension, taken: Taken, source: Any) -> Any:
    """The record with the number put in, its row held and not saved yet. Raises ValidationError outside the limits."""
    held = type(holder)._base_manager.select_for_update().get(pk=holder.pk)
    dimension.put_taken(held, taken, source)
    dimension.check(held)
    return held


@transaction.atomic
def measure(*, part: Any, path: str, text: str, stood: str, hand: InHand) -> None:
    """Store a number in a part; `stood` is what its page showed there.

    Raises ValidationError for what it cannot be, what contradicts the part's other numbers, and where somebody else
    changed it meanwhile.
    """
    taken = taken_at(path, text, hand)
    place = place_in(part, path)
    if place is None:
        raise ValidationError(IN_A_LIST)
    holder, dimension = place
    now = dimension.shown(holder)
    if stood != now:
        raise ValidationError(
            lazy("Someone changed this: now {now}. Save again to use yours.").format(now=now or "not measured")
        )
    held = put_in(holder, dimension, taken, hand.source)
    whole = part if isinstance(part, HandSet) else held
    rows = {name: [held if row == held else row for row in rows] for name, rows in rows_of(part).items()}
    refuse_contradiction(whole, **rows)
    held.save()


def refuse_contradiction(part: Any, **rows: Any) -> None:
    """Raise ValidationError where the numbers of a part, and of its rows, contradict each other."""
    if error := contradiction(part, **rows):
        raise ValidationError(refused_words(error))
