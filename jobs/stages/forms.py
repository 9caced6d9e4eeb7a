"""Forms of a stage."""

from typing import Any

from django import forms
from django.utils.translation import gettext_lazy as lazy

from jobs.models import Stage
from parts.tools.stale_guard import StaleGuard


class BarField(forms.DecimalField):
    """A pressure in bar, typed with a point or a comma."""

    def to_python(self, value):
        return super().to_python(str("" if value is None else value).strip().replace(",", "."))


class RemarksForm(StaleGuard, forms.ModelForm):
    """The remarks of a stage; of the handover's, what pressure the watch held as well."""

    class Meta:
        model = Stage
        fields = ("pressure_bar", "remarks")
        widgets = {
            "remarks": forms.Textarea(attrs={"rows": 3}),
            "pressure_bar": forms.TextInput({"inputmode": "decimal", "autocomplete": "off", "maxlength": 10}),
        }
        field_classes = {"pressure_bar": BarField}
        help_texts = {"pressure_bar": "Printed on the handover note once the test is ticked as passed."}

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        if self.instance.kind != Stage.Kind.HANDOVER:
            del self.fields["pressure_bar"]


class SkipForm(forms.Form):
    """Why a stage is left out."""

    reason = forms.CharField(max_length=300, label=lazy("Reason for skipping"))


class MinutesForm(forms.Form):
    """Time put in by hand."""

    minutes = forms.IntegerField(min_value=1, max_value=1440, label=lazy("Minutes"))
    note = forms.CharField(max_length=200, required=False, label=lazy("What for"))
