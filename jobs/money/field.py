"""An amount of money in a form of a job."""

from django import forms
from django.utils.functional import lazy

from jobs.models import Shop


class FeeField(forms.DecimalField):
    """An amount in the shop's currency, typed with a point or a comma."""

    def __init__(self, **options):
        widget = forms.TextInput({"inputmode": "decimal", "autocomplete": "off", "maxlength": 20})
        unit = lazy(lambda: f"in {Shop.current().currency}", str)()
        super().__init__(widget=widget, max_digits=8, decimal_places=2, required=False, help_text=unit, **options)

    def to_python(self, value):
        try:
            return super().to_python(str(value or "").strip().replace(",", "."))
        except forms.ValidationError as error:
            raise forms.ValidationError(
                f"“{str(value)[:20]}” is not an amount. Type it like 25 or 25.50, or leave it blank."
            ) from error

    def validate(self, value):
        super().validate(value)
        if value is not None and value < 0:
            raise forms.ValidationError(f"{value} is below 0. Enter the agreed fee, or leave it blank.")
