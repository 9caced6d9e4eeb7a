"""The form of the intake page."""

from typing import Any

from django import forms
from django.utils.translation import gettext_lazy as lazy

from jobs.intake.enquired import enquiry_of
from jobs.intake.who import WhoForm
from jobs.models import Condition, Job
from jobs.money.field import FeeField, ValueField
from jobs.past.take_over import source_of, what_is_taken
from parts.tools.dates import DateInput, not_past

_ANSWERS = ("runs", "water")
_SHORT = {"rows": 2}


class IntakeForm(WhoForm):
    """Everything that is written down when a watch arrives, on one page."""

    declared_value = ValueField(label=lazy("Declared value"))
    diagnosis_fee = FeeField(label=lazy("Agreed diagnosis fee"))
    like = forms.CharField(required=False, max_length=12, widget=forms.HiddenInput)
    enquiry = forms.CharField(required=False, max_length=12, widget=forms.HiddenInput)

    class Meta:
        model = Job
        fields = (
            "watch",
            "serial",
            "wish",
            "came_with",
            "keep",
            "luminous",
            "promised",
            "declared_value",
            "diagnosis_fee",
        )
        widgets = {
            "wish": forms.Textarea(attrs=_SHORT),
            "came_with": forms.Textarea(attrs=_SHORT),
            "keep": forms.Textarea(attrs=_SHORT),
            "promised": DateInput(),
        }

    def __init__(self, *args: Any, sees_money: bool = False, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        if not sees_money:
            del self.fields["diagnosis_fee"]
        self.fields["luminous"].choices = [("", "look, then choose"), *Job.Luminous.choices]
        for subject, label in Condition.Subject.choices:
            self.fields[f"found-{subject}"] = forms.ChoiceField(
                choices=_findings(subject), required=False, label=label.capitalize(), widget=forms.RadioSelect
            )
            self.fields[f"remark-{subject}"] = forms.CharField(
                max_length=300,
                required=False,
                label=lazy("{label}: remark").format(label=label),
                widget=forms.TextInput(attrs={"placeholder": "Remark"}),
            )

    @property
    def condition_fields(self):
        """The checklist's rows as pairs of fields."""
        return [(self[f"found-{subject}"], self[f"remark-{subject}"]) for subject in Condition.Subject.values]

    @property
    def conditions(self):
        """What was found, as (subject, finding, remark) rows; those not looked at are left out."""
        rows = (
            (subject, self.cleaned_data[f"found-{subject}"], self.cleaned_data[f"remark-{subject}"])
            for subject in Condition.Subject.values
        )
        return [row for row in rows if row[1] or row[2]]

    def clean_like(self):
        """The job whose parts and lines are taken over; None where the draft names none that is there."""
        return source_of(self.cleaned_data["like"])

    def clean_enquiry(self):
        """The open enquiry that the watch was announced by; None where the draft names none."""
        return enquiry_of(self.cleaned_data["enquiry"])

    def clean_promised(self):
        return not_past(self.cleaned_data["promised"])

    @property
    def taken_over(self):
        """What will be taken over from a past job; None where none is named."""
        source = source_of(self["like"].value() or "")
        return source and {"source": source, "taken": what_is_taken(source)}

    @property
    def announced_by(self):
        """The enquiry that the watch was announced by; None where none is named."""
        return enquiry_of(self["enquiry"].value() or "")

    @property
    def facts(self):
        """The job's own fields and its family's name, for `log_watch`."""
        own = {name: self.cleaned_data.get(name) for name in self.Meta.fields}
        own |= {"customer": self.cleaned_data["customer"], "family_name": self.cleaned_data["family"].strip()}
        return own | {name: self.cleaned_data[name] for name in ("like", "enquiry")}


def _findings(subject):
    answers = [choice for choice in Condition.Finding.choices if choice[0] in ("yes", "no")]
    states = [choice for choice in Condition.Finding.choices if choice[0] not in ("yes", "no")]
    return answers if subject in _ANSWERS else states
