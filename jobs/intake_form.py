"""The form of the intake page."""

import re

from django import forms
from django.urls import reverse
from django.utils import timezone

from jobs.forms import DateInput
from jobs.intake import find_family
from jobs.models import Condition, Customer, Job
from jobs.photos import FORMATS

_PICKED = re.compile(r"\s*\[(\d+)\]$")
_ANSWERS = ("runs", "water")
_SHORT = {"rows": 2}


def picked(customer):
    """How a known customer stands in the field: name, phone, and the number that tells namesakes apart."""
    return " ".join(filter(None, (customer.name, customer.phone, f"[{customer.pk}]")))


class IntakeForm(forms.ModelForm):
    """Everything that is written down when a watch arrives, on one page."""

    customer = forms.CharField(max_length=160, help_text="Type a name: pick a known customer, or go on for a new one.")
    email = forms.EmailField(required=False, label="E-mail")
    phone = forms.CharField(max_length=40, required=False)
    address = forms.CharField(max_length=500, required=False, widget=forms.Textarea(attrs=_SHORT))
    reach = forms.ChoiceField(
        choices=[("", "not said"), *Customer.Reach.choices], required=False, label="Likes to be reached by"
    )
    family = forms.CharField(
        max_length=80, required=False, label="Case family", help_text="Pick a known one or type a new one."
    )
    field_order = ("customer", "email", "phone", "address", "reach", "family")

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
            "diagnosis_fee",
        )
        widgets = {
            "wish": forms.Textarea(attrs=_SHORT),
            "came_with": forms.Textarea(attrs=_SHORT),
            "keep": forms.Textarea(attrs=_SHORT),
            "promised": DateInput(),
        }

    def __init__(self, *args, **kwargs):
        super().__init__(*args, **kwargs)
        for name, words in (("customer", "customers"), ("family", "families")):
            self.fields[name].widget.attrs |= {
                "list": f"known-{words}",
                "autocomplete": "off",
                "hx-get": reverse("jobs:likely", args=[words]),
                "hx-trigger": "input changed delay:150ms",
                "hx-target": f"#known-{words}",
            }
        self.fields["customer"].widget.attrs["autofocus"] = True
        self.fields["diagnosis_fee"].widget.attrs["inputmode"] = "decimal"
        self.fields["diagnosis_fee"].min_value = 0
        for subject, label in Condition.Subject.choices:
            self.fields[f"found-{subject}"] = forms.ChoiceField(
                choices=[("", "not looked at"), *_findings(subject)], required=False, label=label.capitalize()
            )
            self.fields[f"remark-{subject}"] = forms.CharField(max_length=300, required=False, label=f"{label}: remark")

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

    def clean_customer(self):
        text = self.cleaned_data["customer"].strip()
        if number := _PICKED.search(text):
            known = Customer.objects.filter(pk=int(number[1]), archived=False).first()
            if known is None:
                raise forms.ValidationError(f"No customer has the number {number[1]}. Pick one of the list again.")
            return known
        if len(text) > 80:
            raise forms.ValidationError(f"This name has {len(text)} letters; at most 80 are kept. Shorten it.")
        return Customer(name=text)

    def clean_promised(self):
        day = self.cleaned_data["promised"]
        if day and day < timezone.localdate():
            raise forms.ValidationError(f"{day:%d %b %Y} is past. Promise a day from today on, or leave it empty.")
        return day

    def clean_diagnosis_fee(self):
        fee = self.cleaned_data["diagnosis_fee"]
        if fee is not None and fee < 0:
            raise forms.ValidationError(f"{fee} is below 0. Enter the fee that was agreed, or leave it empty.")
        return fee

    def clean(self):
        cleaned = super().clean()
        customer = cleaned.get("customer")
        if customer and customer.pk is None:
            for name in ("email", "phone", "address", "reach"):
                setattr(customer, name, cleaned.get(name) or "")
            if not (customer.email or customer.phone or customer.address):
                self.add_error("phone", "Enter a phone number, an e-mail or an address of the new customer.")
        return cleaned

    @property
    def facts(self):
        """The job's own fields and its family's name, for `log_watch`."""
        own = {name: self.cleaned_data[name] for name in self.Meta.fields}
        return own | {"customer": self.cleaned_data["customer"], "family_name": self.cleaned_data["family"].strip()}

    @property
    def family_is_new(self):
        name = self["family"].value() or ""
        return bool(name.strip()) and find_family(name) is None


def _findings(subject):
    answers = [choice for choice in Condition.Finding.choices if choice[0] in ("yes", "no")]
    states = [choice for choice in Condition.Finding.choices if choice[0] not in ("yes", "no")]
    return answers if subject in _ANSWERS else states


PHOTO_TYPES = ",".join(f"image/{name.lower()}" for name in FORMATS)
