"""Forms of a stage."""

from django import forms

from jobs.models import Stage
from parts.tools.stale_guard import StaleGuard


class RemarksForm(StaleGuard, forms.ModelForm):
    """The remarks of a stage."""

    class Meta:
        model = Stage
        fields = ("remarks",)
        widgets = {"remarks": forms.Textarea(attrs={"rows": 3})}


class SkipForm(forms.Form):
    """Why a stage is left out."""

    reason = forms.CharField(max_length=300, label="Reason for skipping")


class MinutesForm(forms.Form):
    """Time put in by hand."""

    minutes = forms.IntegerField(min_value=1, max_value=1440, label="Minutes")
    note = forms.CharField(max_length=200, required=False, label="What for")
