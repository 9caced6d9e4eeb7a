"""What a quick check's form says, put into its draft: numbers read with the instrument in hand, and what was picked."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from django.core.exceptions import ValidationError

from parts.dimensions.field import refuse_outside
from parts.dimensions.form_field import DimensionField
from parts.dimensions.typed import measured_path, picked_at
from parts.fit.records import input_of
from parts.quick.asked import NUMBERS, PICKS

if TYPE_CHECKING:
    from collections.abc import Mapping

    from parts.dimensions.in_hand import InHand

NUMBER, PICK = "n:", "p:"
"""Inputs of the form are called by these and the path in the sheet."""
AGAIN = "again"
"""The form's hidden field with the name of an input into which the same text was typed again."""
_LONGEST = 200


def retyped(typed: Mapping[str, Any], data: Mapping[str, str], hand: InHand) -> dict[str, Any]:
    """The draft's entries after the form was sent: a text that did not change keeps how it was taken.

    What the form does not hold stays as it is; what was cleared goes. The number that AGAIN names was typed once more,
    and the same text is a reading of its own.
    """
    after = dict(typed)
    for path in NUMBERS:
        if (text := data.get(NUMBER + path)) is not None:
            _put(after, path, text.strip()[:_LONGEST], hand, again=data.get(AGAIN) == NUMBER + path)
    for path, pick in PICKS.items():
        word = data.get(PICK + path)
        if word in dict(pick.options):
            after.pop(path, None)
            if word:
                after[path] = {"text": word}
    return after


def _put(entries: dict[str, Any], path: str, text: str, hand: InHand, *, again: bool) -> None:
    if text == picked_at(entries, path) and not again:
        return
    entries.pop(path, None)
    if text:
        entries[path] = read(path, text, hand)


def read(path: str, text: str, hand: InHand) -> dict[str, Any]:
    """The entry of a typed number; with its `fault` where it cannot be read or lies outside its limits."""
    path = measured_path(path)
    spec = input_of(path)
    try:
        taken = DimensionField.at(path, hand=hand).clean(text)
        if taken is None:
            return {"text": text}
        refuse_outside(spec, spec.label, taken.value, taken.plus_minus)
    except ValidationError as error:
        return {"text": text, "fault": error.messages[0]}
    return {
        "text": text,
        "value": taken.value,
        "plus_minus": taken.plus_minus,
        "at_least": taken.at_least,
        "taken": taken.record,
    }
