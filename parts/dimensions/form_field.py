"""A measured number in a form."""

from __future__ import annotations

from typing import Any

from django import forms
from django.utils.translation import gettext_lazy as lazy

from parts.dimensions.cards import card_of
from parts.dimensions.in_hand import NOTHING_IN_HAND, InHand
from parts.dimensions.readings import Taken, take
from parts.dimensions.text import DimensionError, format_dimension, show_dimension
from parts.fit.records import input_of


class DimensionField(forms.CharField):
    """One text input for what was read; cleans to a Taken, or None where nothing is typed.

    `DimensionField.at("case.bore_diameter", hand=hand)` knows unit, label, which direction counts and the plus-minus
    that a bare number takes. Without a path or with nothing in hand a bare number stays as it is typed.
    """

    def __init__(
        self, *, unit: str, bounded: bool = False, path: str = "", hand: InHand = NOTHING_IN_HAND, **kwargs: Any
    ) -> None:
        self.unit, self.bounded, self.path, self.hand, self.source = unit, bounded, path, hand, ""
        kwargs.setdefault("required", False)
        super().__init__(max_length=200, **kwargs)
        self.widget.attrs |= {"class": "number-input", "autocomplete": "off"}

    @classmethod
    def at(cls, path: str, *, hand: InHand = NOTHING_IN_HAND, **kwargs: Any) -> DimensionField:
        """The field of a dimension by its path in the pairing sheet."""
        spec = input_of(path)
        kwargs = {"label": spec.label[:1].upper() + spec.label[1:], "help_text": spec.where} | kwargs
        return cls(unit=spec.unit, bounded=spec.bounded, path=path, hand=hand, **kwargs)

    @property
    def tool(self):
        """What gives a bare number its plus-minus. `source` may say where the number comes from instead."""
        return self.hand.tool(self.path, unit=self.unit, source=self.source) if self.path else None

    @property
    def is_exact(self) -> bool:
        """Whether no plus-minus is asked for."""
        return not self.path or card_of(self.path).exact

    @property
    def to_come(self) -> str:
        """The plus-minus that a bare number will take, in words: "calliper ±0.05"; empty where none is asked for."""
        if self.is_exact or self.hand.instrument is None:
            return ""
        tool = self.tool
        if tool is None:
            return "± not given"
        _, _, plus_minus = show_dimension(0.0, tool.limit, unit=self.unit).partition(" ")
        return f"{tool.in_sentence} {plus_minus}"

    def clean(self, value: Any) -> Taken | None:
        try:
            return take(
                super().clean(value),
                unit=self.unit,
                bounded=self.bounded,
                tool=self.tool,
                pins=self.hand.pins,
                counts=card_of(self.path).counts,
            )
        except DimensionError as error:
            raise forms.ValidationError(str(error), code="dimension") from error


class PlainNumberField(DimensionField):
    """A number with a unit that has no plus-minus."""

    def prepare_value(self, value: Any) -> Any:
        return format_dimension(value, unit=self.unit) if isinstance(value, float) else value

    def clean(self, value: Any) -> Any:
        taken = super().clean(value)
        if taken and (taken.plus_minus or taken.readings or taken.directions or taken.pins):
            raise forms.ValidationError(
                lazy("“{value}” has a ±, which is not used here. Type the number alone.").format(value=value)
            )
        return taken and taken.value
