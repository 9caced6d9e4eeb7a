"""A plain number, a percentage or an amount of money in a form.

Typed with a point or a comma, refused with its value and limits.
"""

from decimal import Decimal
from math import isfinite
from typing import Any

from django import forms
from django.utils.translation import gettext_lazy as lazy


class NumberField(forms.FloatField):
    """Takes 22.5 and 22,5; `lowest`, `highest` and `unit` are told where a number lies outside."""

    def __init__(self, *, lowest: float, highest: float, unit: str, **options: Any) -> None:
        self.lowest, self.highest, self.unit = lowest, highest, unit
        widget = forms.TextInput({"inputmode": "decimal", "autocomplete": "off", "maxlength": 30})
        super().__init__(widget=widget, **options)

    def prepare_value(self, value):
        is_plain_length = self.unit == "mm" and isinstance(value, float) and round(value, 2) == value
        return f"{value:.2f}" if is_plain_length else value

    def to_python(self, value):
        text = str(value or "").strip().replace("\u2212", "-").replace(",", ".").removesuffix(self.unit).strip()
        try:
            number = super().to_python(text)
            if number is not None and not isfinite(number):
                raise forms.ValidationError(lazy("not finite"))
            return number
        except forms.ValidationError as error:
            in_unit = f", in {self.unit}" if self.unit else ""
            raise forms.ValidationError(
                lazy("“{typed}” is not a number. Type it like 1.5 or 1,5{in_unit}.").format(
                    typed=str(value)[:30], in_unit=in_unit
                )
            ) from error

    def validate(self, value):
        super().validate(value)
        if value is not None and not self.lowest <= value <= self.highest:
            raise forms.ValidationError(
                lazy(
                    "{value:g} {unit} is out of range: it must be between {lowest:g} and {highest:g} "
                    "{unit}. Check the reading."
                ).format(highest=self.highest, lowest=self.lowest, unit=self.unit, value=value)
            )


class AmountField(forms.DecimalField):
    """An amount of money: up to two decimals, typed with a point or a comma; never below 0."""

    below = "{} is below 0. Type an amount of 0 or more, or leave it blank."

    def __init__(self, *, max_digits: int = 9, **options: Any) -> None:
        widget = forms.TextInput({"inputmode": "decimal", "autocomplete": "off", "maxlength": 20})
        super().__init__(widget=widget, max_digits=max_digits, decimal_places=2, required=False, **options)

    def to_python(self, value):
        try:
            return super().to_python(str("" if value is None else value).strip().replace(",", "."))
        except forms.ValidationError as error:
            raise forms.ValidationError(
                lazy("“{typed}” is not an amount. Type it like 25 or 25.50, or leave it blank.").format(
                    typed=str(value)[:20]
                )
            ) from error

    def validate(self, value):
        super().validate(value)
        if value is not None and value < 0:
            raise forms.ValidationError(self.below.format(value))


class PercentField(forms.DecimalField):
    """A share from 0 to 100 %, typed with a point or a comma, with or without its sign."""

    def __init__(self, **options: Any) -> None:
        widget = forms.TextInput({"inputmode": "decimal", "autocomplete": "off", "maxlength": 20})
        super().__init__(**options | {"widget": widget})
        self.error_messages["required"] = "Type a percentage; 0 for none."

    def to_python(self, value):
        text = str("" if value is None else value).strip().removesuffix("%").strip().replace("\u2212", "-")
        try:
            return super().to_python(text.replace(",", "."))
        except forms.ValidationError as error:
            raise forms.ValidationError(
                lazy("“{typed}” is not a percentage. Type it like 10 or 12.5; 0 for none.").format(
                    typed=str(value)[:20]
                )
            ) from error

    def validate(self, value):
        super().validate(value)
        if value is not None and not 0 <= value <= HUNDRED:
            raise forms.ValidationError(
                lazy(
                    "{value:f}\xa0% is out of range: it must be between 0 and 100\xa0%. "
                    "Type it like 10 or 12.5; 0 for none."
                ).format(value=value)
            )

    def run_validators(self, value):
        if value is not None and value != round(value, 2):
            raise forms.ValidationError(
                lazy("{value:f}\xa0% has more than two decimals. Type it like 10 or 12.5.").format(value=value)
            )
        super().run_validators(value)


HUNDRED = Decimal(100)
