"""The fields of a design's form, one for each kind of dimension, and how a dimension is written in them."""

from __future__ import annotations

from typing import Any

from django import forms
from django.core.exceptions import ValidationError
from django.utils.translation import gettext_lazy as lazy

from parts.designs.row_text import rows_to_text, text_to_rows
from parts.dimensions.outline_file import read_outline_file
from parts.dimensions.pieces import Piece, outline_text
from parts.dimensions.text import format_dimension, show_dimension
from parts.holder.parameters import label_of, outline_as_plain
from parts.library import outline_field
from parts.library.forms import PlainNumberField

_NOTATION = Piece("case.bore_outline")
"""How an outline is written, whichever part it is of."""
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


class OutlineInput(outline_field.OutlineInput):
    """An edge of the piece: as suggested, round, or an outline, which may be read from a drawing."""

    has_cards = False

    def __init__(self, label: str) -> None:
        drawing = forms.FileInput(attrs={"accept": ".dxf,.svg"})
        super().__init__(_NOTATION, label, (("", "as suggested"), (NONE, "round")), {"file": drawing})

    def decompress(self, value: Any) -> list[str]:
        if str(value or "").strip().casefold() in (NONE, "-"):
            return [NONE, "", "", "", ""]
        return super().decompress(value)


class OutlineField(outline_field.OutlineField):
    """An outline as in the parts library; cleans to what the fit sheet has, or NONE, None for nothing typed."""

    def __init__(self, label: str) -> None:
        super().__init__(_NOTATION, label, OutlineInput(label))

    def clean(self, value):
        shape, *_ = texts = self.texts_of(value)
        if shape == NONE:
            return NONE
        if shape == "polyline" and isinstance(value, list) and (drawing := value[-1]):
            return {"shape": shape, "points": read_outline_file(drawing.name, drawing.read())}
        outline = super().clean(texts)
        if outline is None:
            if shape:
                raise ValidationError(lazy("Type the outline's points, or choose a drawing of it."))
            return None
        sizes = [size for name, size in outline.items() if name not in ("shape", "points")]
        if not all(isinstance(size, float) for size in sizes):
            raise ValidationError(
                lazy("An outline here is whole and without ±: type each of its sizes, such as 27.00.")
            )
        return outline


def field_of(item: Any) -> forms.Field:
    """The form's field of a dimension."""
    label = label_of(item)
    label = label[:1].upper() + label[1:]
    if "rows" in item.metadata:
        return RowsField(rows=item.metadata["rows"], label=label)
    if "outline" in item.metadata:
        return OutlineField(label)
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
