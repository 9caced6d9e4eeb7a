"""Forms of a job."""

from django import forms
from django.utils import timezone

from jobs.models import GoAhead, Job, LuminousClearance, Stage
from jobs.money.field import FeeField
from parts.tools.stale_guard import shown


class DateInput(forms.DateInput):
    input_type = "date"

    def __init__(self):
        super().__init__(format="%Y-%m-%d")


class StaleError(forms.ValidationError):
    """Somebody else saved in the meantime."""


class EditionMixin(forms.ModelForm):
    """A form that is not saved over a newer edition of its record.

    The page carries the edition it was opened at; where the record has moved on, the form is refused with what stands
    there now, and everything typed stays in its fields.
    """

    edition = forms.IntegerField(widget=forms.HiddenInput)

    def __init__(self, *args, **kwargs):
        super().__init__(*args, **kwargs)
        self.initial["edition"] = self.instance.edition
        self.now = {name: str(self[name].initial or "") for name in self.fields if name != "edition"}

    def clean(self):
        cleaned = super().clean()
        if (
            self.instance.pk
            and self.cleaned_data.get("edition") != type(self.instance).objects.get(pk=self.instance.pk).edition
        ):
            self._tell_what_stands_there()
        return cleaned

    def _tell_what_stands_there(self):
        self.add_error(
            None, StaleError("This was changed elsewhere since you opened it. Look at what differs and save again.")
        )
        for name, stands in self.now.items():
            if str(self[name].value() or "") != stands:
                self.add_error(name, f"Stands there now: {shown(self[name])}")
        self.data = self.data.copy()
        self.data[self.add_prefix("edition")] = self.instance.edition

    def save(self, commit=True):
        self.instance.edition += 1
        return super().save(commit)


class JobForm(EditionMixin):
    """What was agreed about a job, changed after it was logged."""

    diagnosis_fee = FeeField(label="Agreed diagnosis fee")

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
            "diagnosis_fee",
            "remarks",
        )
        widgets = {
            "promised": DateInput(),
            **{n: forms.Textarea(attrs={"rows": 2}) for n in ("wish", "came_with", "keep")},
        }

    def __init__(self, *args, sees_money=False, **kwargs):
        super().__init__(*args, **kwargs)
        if not sees_money:
            del self.fields["diagnosis_fee"], self.now["diagnosis_fee"]


class RemarksForm(EditionMixin):
    """The remarks of a stage."""

    class Meta:
        model = Stage
        fields = ("remarks",)
        widgets = {"remarks": forms.Textarea(attrs={"rows": 3})}


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


def not_ahead(day):
    """The day, refused where it has not come yet."""
    if day > timezone.localdate():
        raise forms.ValidationError(f"{day:%d %b %Y} lies ahead. Enter the day on which it happened.")
    return day


class SkipForm(forms.Form):
    """Why a stage is left out."""

    reason = forms.CharField(max_length=300, label="Reason for skipping")


class MinutesForm(forms.Form):
    """Time put in by hand."""

    minutes = forms.IntegerField(min_value=1, max_value=1440, label="Minutes")
    note = forms.CharField(max_length=200, required=False, label="What for")
