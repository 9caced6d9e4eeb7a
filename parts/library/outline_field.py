"""An outline in a form: its shape and plain numbers, or points; a text that tells all of it is read as well."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from django import forms
from django.core.exceptions import ValidationError
from django.utils.translation import gettext_lazy as lazy

from parts.fit.records.outline import SHAPES

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from parts.dimensions.pieces import Piece

_SIZES = ("width", "height", "corner")
CHOICES = (("rectangle", "rectangle, cushion"), ("oval", "oval"), ("polyline", "by its points"))
_TEXTS = 2 + len(_SIZES)
"""Inputs that are texts: the shape, its sizes and the points; a file may follow."""


class OutlineInput(forms.MultiWidget):
    """A choice of the shape, inputs for its sizes in mm, and one for points, under the field's own name.

    `more` are further inputs behind them, by the end of their name. Each has a blank placeholder: what the shape does
    without is hidden only while nothing stands in it.
    """

    template_name = "parts/library/_outline_input.html"
    use_fieldset = False
    has_cards = True
    """Whether the sizes are measured, so that a card tells how."""

    def __init__(
        self,
        piece: Piece,
        label: str,
        others: Sequence[tuple[str, str]] = (("", "round"),),
        more: Mapping[str, forms.Widget] | None = None,
    ) -> None:
        self.piece, self.label = piece, label
        number = {"class": "number-input", "autocomplete": "off", "maxlength": 40, "placeholder": " "}
        inputs: dict[str, forms.Widget | type[forms.Widget]] = {"shape": forms.Select(choices=(*others, *CHOICES))}
        inputs |= {name: forms.TextInput(attrs=number) for name in _SIZES}
        super().__init__({**inputs, "": forms.Textarea(attrs={"rows": 3, "placeholder": " "}), **(more or {})})

    def decompress(self, value: Any) -> list[str]:
        """The inputs' texts of an outline's text."""
        text = str(value or "").replace("\r\n", "\n").strip()
        try:
            outline = self.piece.read(text) or {}
        except ValidationError:
            outline = {"shape": "polyline"}
        if outline.get("shape", "polyline") == "polyline":
            return ["polyline" if text else "", "", "", "", text]
        return [outline["shape"], *(self.piece.size_text(outline, name) for name in _SIZES), ""]

    def id_for_label(self, id_: str) -> str:
        """That of the choice of the shape."""
        return id_

    def get_context(self, name: str, value: Any, attrs: Any) -> dict[str, Any]:
        """The first input has the field's own id, and the focus where the field asks for it."""
        context = super().get_context(name, value, attrs)
        context["widget"] |= {"label": self.label, "has_cards": self.has_cards}
        context["widget"]["paths"] = {size: f"{self.piece.path}.{size}" for size in _SIZES}
        first, *rest = context["widget"]["subwidgets"]
        first["attrs"]["id"] = context["widget"]["attrs"].get("id")
        for other in rest:
            other["attrs"].pop("autofocus", None)
        return context


class OutlineField(forms.Field):
    """Cleans to the outline as the fit sheet has it, None for a round part."""

    def __init__(self, piece: Piece, label: str, widget: OutlineInput | None = None) -> None:
        super().__init__(required=False, label=label, widget=widget or OutlineInput(piece, label))
        self.piece = piece

    def clean(self, value: Any) -> Any:
        shape, *sizes, text = self.texts_of(value)
        if shape in ("", "polyline"):
            if not shape and any(sizes):
                raise ValidationError(lazy("Choose the shape that these sizes are of, or clear them."))
            return self.piece.read(text)
        typed = dict(zip(_SIZES, sizes, strict=True))
        if typed["corner"] and "corner" not in SHAPES[shape]:
            raise ValidationError(
                lazy("Corner {corner}: an {shape} has no corner radius. Clear it.").format(
                    corner=typed["corner"], shape=shape
                )
            )
        return self.piece.read_sizes(shape, {name: typed[name] for name in SHAPES[shape]})

    def has_changed(self, initial: Any, data: Any) -> bool:
        return self.texts_of(data) != self.texts_of(initial)

    def bound_data(self, data: Any, _initial: Any) -> Any:
        """What was typed, as texts of the inputs; empty where nothing was."""
        texts = self.texts_of(data)
        return texts if any(texts) else ""

    def texts_of(self, data: str | Sequence[str | None] | None) -> list[str]:
        """The inputs' texts; what stands among the points alone may tell the whole outline."""
        if not isinstance(data, list | tuple):
            return self.widget.decompress(data)
        texts = [(text or "").replace("\r\n", "\n").strip() for text in data[:_TEXTS]]
        return texts if any(texts[:-1]) else self.widget.decompress(texts[-1])
