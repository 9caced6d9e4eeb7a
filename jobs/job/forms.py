"""Forms of a job."""

from typing import Any

from django import forms
from django.utils import timezone
from django.utils.translation import gettext_lazy as lazy

from jobs.models import GoAhead, Job, LuminousClearance
from jobs.money.field import FeeField, ValueField
from parts.tools.dates import DateInput, not_ahead
from parts.tools.stale_guard import StaleGuard


class JobForm(StaleGuard, forms.ModelForm):
    """What was agreed about a job, changed after it was logged."""

    declared_value = ValueField(label=lazy("Declared value"))
    diagnosis_fee = FeeField(label=lazy("Agreed diagnosis fee"))

    class Meta:
        model = Job
        fields = (
            "case_family",
            "watch",
            "serial",
            "wish",
            "came_with",
            "keep",
            "luminous",
            "promised",
            "declared_value",
            "diagnosis_fee",
            "remarks",
        )
        widgets = {
            "promised": DateInput(),
            **{n: forms.Textarea(attrs={"rows": 2}) for n in ("wish", "came_with", "keep")},
        }

    def __init__(self, *args: Any, sees_money: bool = False, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        if not sees_money:
            del self.fields["diagnosis_fee"]


class GoAheadForm(forms.ModelForm):
    """The customer's yes."""

    class Meta:
        model = GoAhead
        fields = ("how", "said_by", "on", "note")
        widgets = {"on": DateInput(), "note": forms.Textarea(attrs={"rows": 2})}

    def __init__(self, *args, **kwargs):
        super().__init__(*args, **kwargs)
        self.initial["on"] = self.initial.get("on") or timezone.localdate()

    def clean_on(self):
        return not_ahead(self.cleaned_data["on"])


class ClearanceForm(forms.ModelForm):
    """How luminous material was cleared."""

    class Meta:
        model = LuminousClearance
        fields = ("how", "on", "note")
        labels = {"how": "Cleared by", "note": "Reading, marking or what was declined"}
        widgets = {"on": DateInput(), "note": forms.Textarea(attrs={"rows": 2})}

    def __init__(self, *args, **kwargs):
        super().__init__(*args, **kwargs)
        self.initial["on"] = self.initial.get("on") or timezone.localdate()

    def clean_on(self):
        return not_ahead(self.cleaned_data["on"])
