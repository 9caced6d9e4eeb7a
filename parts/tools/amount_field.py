"""An amount of money in a form."""

from typing import Any

from django import forms


class AmountField(forms.DecimalField):
    """Up to two decimals, typed with a point or a comma; never below 0."""

    below = "{} is below 0. Type an amount of 0 or more, or leave it blank."

    def __init__(self, *, max_digits: int = 9, **options: Any) -> None:
        widget = forms.TextInput({"inputmode": "decimal", "autocomplete": "off", "maxlength": 20})
        super().__init__(widget=widget, max_digits=max_digits, decimal_places=2, required=False, **options)

    def to_python(self, value):
        try:
            return super().to_python(str("" if value is None else value).strip().replace(",", "."))
        except forms.ValidationError as error:
            raise forms.ValidationError(
                f"“{str(value)[:20]}” is not an amount. Type it like 25 or 25.50, or leave it blank."
            ) from error

    def validate(self, value):
        super().validate(value)
        if value is not None and value < 0:
            raise forms.ValidationError(self.below.format(value))
