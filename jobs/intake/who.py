"""Whose watch it is, a known customer's or a new one's, and of which case family."""

import re
from typing import Any

from django import forms
from django.urls import reverse
from django.utils.translation import gettext_lazy as lazy

from jobs.intake.arrival import find_family, namesakes
from jobs.language.choices import LANGUAGES
from jobs.models import Customer, Shop

_PICKED = re.compile(r"\s*\[(\d+)\]$")
_CONTACT = ("email", "phone", "address", "reach")


def picked(customer):
    """How a known customer stands in the field: name, phone, and the number that tells namesakes apart."""
    return " ".join(filter(None, (customer.name, customer.phone, f"[{customer.pk}]")))


def begun_for(data):
    """What the intake page begins with when ?customer= names a known customer by number."""
    number = data.get("customer", "")
    known = number.isdecimal() and len(number) < 10 and Customer.objects.filter(pk=number, archived=False).first()
    return {"customer": picked(known)} if known else {}


def who(text):
    """The known customers that the text of the field means: one where it is settled, several namesakes, or none."""
    if number := _PICKED.search(text):
        return list(Customer.objects.filter(pk=int(number[1]), archived=False))
    return namesakes(text)


def hint_for(text):
    """Whether the text means a known customer, and what to say of whom it means."""
    customers = who(text)
    if not text.strip():
        return False, "For a new customer; one of phone, e-mail or address is needed:"
    if len(customers) == 1:
        facts = (customers[0].name, customers[0].phone or customers[0].email, _jobs_word(customers[0].jobs.count()))
        return True, f"Known: {', '.join(filter(None, facts))}."
    if customers:
        return False, f"{len(customers)} customers have this name. Pick the right one, or carry on for a new one."
    return False, "A new customer; one of phone, e-mail or address is needed:"


def _jobs_word(count):
    return f"{count} job{'' if count == 1 else 's'} so far"


class WhoForm(forms.ModelForm):
    """A form that begins with the customer, picked from those who are known or new, and the case family."""

    customer = forms.CharField(
        max_length=160, help_text=lazy("Type a name. Pick from the list, or carry on for a new customer.")
    )
    email = forms.EmailField(required=False, label=lazy("E-mail"))
    phone = forms.CharField(max_length=40, required=False)
    address = forms.CharField(max_length=500, required=False, widget=forms.Textarea(attrs={"rows": 2}))
    reach = forms.ChoiceField(
        choices=[("", "not given"), *Customer.Reach.choices], required=False, label=lazy("Prefers")
    )
    language = forms.ChoiceField(choices=LANGUAGES, required=False, label=lazy("Papers in"))

    family = forms.CharField(
        max_length=80,
        required=False,
        label=lazy("Case family"),
        help_text=lazy("Pick from the list, or type a new one."),
    )
    field_order = ("customer", *_CONTACT, "language", "family")

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        _suggest(self.fields["customer"], "customers")
        _suggest(self.fields["family"], "families")
        self.fields["customer"].widget.attrs["autofocus"] = True
        self.fields["language"].initial = Shop.current().language

    def clean_customer(self):
        text = self.cleaned_data["customer"].strip()
        if number := _PICKED.search(text):
            known = Customer.objects.filter(pk=int(number[1]), archived=False).first()
            if known is None:
                raise forms.ValidationError(
                    lazy("No customer has the number {number[1]}. Pick from the list again.").format(number=number)
                )
            return known
        if len(text) > 80:
            raise forms.ValidationError(
                lazy("This name has {count} letters; the limit is 80. Shorten it.").format(count=len(text))
            )
        return Customer(name=text)

    def clean(self):
        cleaned = super().clean()
        customer = cleaned.get("customer")
        if customer and customer.pk is None:
            customer = cleaned["customer"] = self._known_by_name(customer)
        if customer is None or customer.pk:
            for name in _CONTACT:
                self._errors.pop(name, None)
            return cleaned
        for name in _CONTACT:
            setattr(customer, name, cleaned.get(name) or "")
        customer.language = cleaned.get("language") or Shop.current().language
        if not (customer.email or customer.phone or customer.address or "phone" in self._errors):
            self.add_error("phone", lazy("Enter the new customer's phone number, e-mail or address."))
        return cleaned

    def _known_by_name(self, customer):
        """The customer of just this name, unless what is typed beside it is another person's; None where unsettled."""
        typed = [(name, self.cleaned_data.get(name)) for name in ("phone", "email") if self.cleaned_data.get(name)]
        same_name = namesakes(customer.name)
        if typed or self.cleaned_data.get("address"):
            agreeing = (known for known in same_name if any(getattr(known, name) == text for name, text in typed))
            return next(agreeing, customer)
        if len(same_name) > 1:
            listed = "; ".join(picked(customer) for customer in same_name)
            self.add_error(
                "customer",
                lazy("{count} customers have this name. Pick the right one: {listed}.").format(
                    count=len(same_name), listed=listed
                ),
            )
            return None
        return same_name[0] if same_name else customer

    @property
    def customer_hint(self):
        known, words = hint_for(self["customer"].value() or "")
        return {"known": known, "words": words}

    @property
    def family_hint(self):
        return hint_for_family(self["family"].value() or "")


def hint_for_family(name):
    """What to say of a case family that is not known yet."""
    if not name.strip() or find_family(name):
        return ""
    return f"New case family “{name.strip()}”: added when you log the watch."


def _suggest(field, words):
    """Have a text field offer what is known while typing: "customers" or "families"."""
    field.widget.attrs |= {
        "list": f"known-{words}",
        "autocomplete": "off",
        "hx-get": reverse("jobs:likely", args=[words]),
        "hx-trigger": "input changed delay:150ms",
        "hx-target": f"#known-{words}",
    }
