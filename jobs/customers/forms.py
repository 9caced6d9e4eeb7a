"""Forms of customers: their particulars, and erasing their personal data."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from django import forms
from django.utils.translation import gettext_lazy as lazy

from jobs.customers.erase import CannotErase, erase
from jobs.language.choices import settled
from jobs.models import Customer
from parts.tools.stale_guard import StaleGuard

if TYPE_CHECKING:
    from django.contrib.auth.models import User


class CustomerForm(StaleGuard, forms.ModelForm):
    class Meta:
        model = Customer
        fields = ("name", "email", "phone", "address", "reach", "language", "no_letters", "notes")
        widgets = {"address": forms.Textarea(attrs={"rows": 3}), "notes": forms.Textarea(attrs={"rows": 3})}

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.fields["language"].required = False

    def clean_language(self):
        return self.cleaned_data["language"] or settled(self.initial["language"])


class EraseForm(forms.Form):
    """The name once more, and what else is to go."""

    empty_texts = forms.BooleanField(
        required=False,
        label=lazy("Erase the jobs' free texts too"),
        help_text=lazy(
            "Wish, what came with the watch, what must be kept, serial number, remarks, notes, captions, outcome and "
            "their history. If not ticked they stay, and only name, phone, e-mail and address are taken out of "
            "them."
        ),
    )
    drop_photos = forms.BooleanField(
        required=False,
        label=lazy("Erase the jobs' photos too"),
        help_text=lazy("Tick this if a photo shows a person, an address or an engraved name."),
    )
    name = forms.CharField(
        label=lazy("The customer's name, to confirm"), widget=forms.TextInput({"autocomplete": "off"})
    )

    def __init__(self, *args: Any, customer: Customer, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.customer = customer

    def clean_name(self):
        typed = " ".join(self.cleaned_data["name"].split())
        if typed != " ".join(self.customer.name.split()):
            raise forms.ValidationError(
                lazy("“{typed}” is not the name. Type it as shown above: {name}").format(
                    name=self.customer.name, typed=typed
                )
            )
        return typed

    def run(self, *, by: User) -> bool:
        """Erase; returns whether it was done, with the reason on the form where not."""
        choices = {name: self.cleaned_data[name] for name in ("empty_texts", "drop_photos")}
        try:
            self.mentioning = erase(customer=self.customer, by=by, **choices)
        except CannotErase as refusal:
            self.add_error(None, str(refusal))
            return False
        return True
