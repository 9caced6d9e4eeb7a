"""The fields of a design's form, one for each kind of dimension, and how a dimension is written in them."""

from __future__ import annotations

from typing import Any

from django import forms
from django.core.exceptions import ValidationError

from parts.designs.row_text import rows_to_text, text_to_rows
from parts.dimensions.pieces import outline_text, read_outline
from parts.dimensions.text import format_dimension, show_dimension
from parts.holder.parameters import label_of, outline_as_plain
from parts.library.forms import PlainNumberField

NONE = "none"
"""What is typed for a round edge where an outline is proposed, or to leave proposed words out."""


class RowsField(forms.CharField):
    """Cut-outs, keys or notches, a line each; cleans to a tuple of rows, None where nothing is typed."""

    def __init__(self, *, rows: Any, **kwargs: Any) -> None:
        self.rows = rows
        super().__init__(required=False, max_length=3000, widget=forms.Textarea(attrs={"rows": 3}), **kwargs)

    def clean(self, value):
        text = super().clean(value)
        try:
            return text_to_rows(text, self.rows) if text.strip() else None
        except ValueError as error:
            raise forms.ValidationError(str(error)) from error


class OutlineField(forms.CharField):
    """An outline as in the parts library; cleans to what the fit sheet has, or NONE, None for nothing typed."""

    def __init__(self, **kwargs: Any) -> None:
        super().__init__(required=False, max_length=20000, widget=forms.Textarea(attrs={"rows": 2}), **kwargs)

    def clean(self, value):
        lines = [line.strip() for line in super().clean(value).splitlines() if line.strip()]
        if not lines:
            return None
        if lines[0].casefold() in (NONE, "-"):
            return NONE
        outline = read_outline(lines)
        sizes = [outline.get(name) for name in ("width", "height")] + [outline.get("corner", 0.0)]
        if outline["shape"] != "polyline" and not all(isinstance(size, float) for size in sizes):
            raise ValidationError("An outline here is whole and without ±: rectangle 27.00 × 30.40, corner 2.00.")
        return outline


def field_of(item: Any) -> forms.Field:
    """The form's field of a dimension."""
    label = label_of(item)
    label = label[:1].upper() + label[1:]
    if "rows" in item.metadata:
        return RowsField(rows=item.metadata["rows"], label=label)
    if "outline" in item.metadata:
        return OutlineField(label=label)
    if "words" in item.metadata:
        return forms.CharField(required=False, max_length=item.metadata["words"], label=label)
    if "choice" in item.metadata:
        options = [("", "as suggested"), *((option, option) for option in item.metadata["choice"])]
        return forms.ChoiceField(choices=options, required=False, label=label)
    return PlainNumberField(unit=item.metadata["input"].unit, label=label)


def text_of(item: Any, value: Any) -> str:
    """A dimension as the form takes it."""
    if "outline" in item.metadata:
        plain = outline_as_plain(value)
        return outline_text(plain) if plain else NONE
    if "words" in item.metadata:
        return value or NONE
    if value is None:
        return ""
    if "rows" in item.metadata:
        return rows_to_text(value)
    if "choice" in item.metadata:
        return value
    return format_dimension(value, unit=item.metadata["input"].unit)


def shown_value(item: Any, value: Any) -> str:
    """A proposed value for reading, with its unit."""
    if "input" in item.metadata and value is not None:
        return show_dimension(value, unit=item.metadata["input"].unit)
    return text_of(item, value).replace("\n", "; ") or "not known"
