"""A number in a form of a job: typed with a point or a comma, refused with its value, its limits and its unit."""

from math import isfinite

from django import forms
from django.utils.functional import lazy

from jobs.models import Shop


class NumberField(forms.FloatField):
    """Takes 22.5 and 22,5; `lowest`, `highest` and `unit` are told where a number lies outside."""

    def __init__(self, *, lowest, highest, unit, **options):
        self.lowest, self.highest, self.unit = lowest, highest, unit
        widget = forms.TextInput({"inputmode": "decimal", "autocomplete": "off", "maxlength": 30})
        super().__init__(widget=widget, **options)

    def to_python(self, value):
        text = str(value or "").strip().replace("\u2212", "-").replace(",", ".").removesuffix(self.unit).strip()
        try:
            number = super().to_python(text)
            if number is not None and not isfinite(number):
                raise forms.ValidationError("not finite")
            return number
        except forms.ValidationError as error:
            raise forms.ValidationError(
                f"“{str(value)[:30]}” is not read as a number. Type it like 1.5 or 1,5, in {self.unit}."
            ) from error

    def validate(self, value):
        super().validate(value)
        if value is not None and not self.lowest <= value <= self.highest:
            raise forms.ValidationError(
                f"{value:g} {self.unit} cannot be: it must be from {self.lowest:g} to {self.highest:g} {self.unit}. "
                "Check the reading."
            )


class FeeField(forms.DecimalField):
    """An amount in the shop's currency, typed with a point or a comma."""

    def __init__(self, **options):
        widget = forms.TextInput({"inputmode": "decimal", "autocomplete": "off", "maxlength": 20})
        told = lazy(lambda: f"in {Shop.current().currency}", str)()
        super().__init__(widget=widget, max_digits=8, decimal_places=2, required=False, help_text=told, **options)

    def to_python(self, value):
        try:
            return super().to_python(str(value or "").strip().replace(",", "."))
        except forms.ValidationError as error:
            raise forms.ValidationError(
                f"“{str(value)[:20]}” is not read as an amount. Type it like 25 or 25.50, or leave it empty."
            ) from error

    def validate(self, value):
        super().validate(value)
        if value is not None and value < 0:
            raise forms.ValidationError(f"{value} is below 0. Enter the fee that was agreed, or leave it empty.")
