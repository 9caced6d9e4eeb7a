"""Forms of an enquiry: as it comes in, its answer, and why it is closed."""

from __future__ import annotations

from typing import Any

from django import forms
from django.utils import timezone
from django.utils.translation import gettext_lazy as lazy

from jobs.intake.who import WhoForm
from jobs.models import Enquiry, Shop, WindowEntry
from parts.tools.dates import DateInput, not_ahead, not_past
from parts.tools.number_field import AmountField
from parts.tools.stale_guard import StaleGuard

_ROWS = {"rows": 4}


class EnquiryForm(WhoForm):
    """An enquiry as it comes in."""

    code = forms.CharField(
        required=False,
        max_length=20,
        label=lazy("Entry of the show window"),
        help_text=lazy("Its code of five, as it stands in the message's subject."),
    )

    class Meta:
        model = Enquiry
        fields = ("words", "came", "wish")
        widgets = {"words": forms.Textarea({"rows": 8}), "wish": forms.Textarea(_ROWS), "came": DateInput()}

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.initial.setdefault("came", timezone.localdate())
        if not self.initial.get("words"):
            self.fields["customer"].widget.attrs.pop("autofocus")
            self.fields["words"].widget.attrs["autofocus"] = True

    def clean_came(self):
        return not_ahead(self.cleaned_data["came"])

    def clean_code(self):
        code = self.cleaned_data["code"].strip().upper()
        if not code:
            return None
        entry = WindowEntry.objects.filter(code=code).select_related("family").first()
        if entry is None:
            raise forms.ValidationError(
                lazy("No entry has the code {code}. Look at the message again, or leave it blank.").format(code=code)
            )
        return entry


class AnswerForm(StaleGuard, forms.ModelForm):
    """The first answer, and when to ask again."""

    answer = forms.ChoiceField(choices=Enquiry.Answer.choices, label=lazy("Our answer"), widget=forms.RadioSelect())
    price_from = AmountField(label=lazy("Price from"), help_text=lazy("With “would fit” alone."))

    class Meta:
        model = Enquiry
        fields = ("answer", "price_from", "follow_up")
        widgets = {"follow_up": DateInput()}

    def __init__(self, *args: Any, sees_money: bool, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        price: Any = self.fields["price_from"]
        price.unit = Shop.current().currency
        if not sees_money:
            del self.fields["price_from"]

    def clean(self):
        cleaned = super().clean()
        if cleaned.get("price_from") is not None and cleaned.get("answer") not in (None, Enquiry.Answer.GOES):
            self.add_error("price_from", lazy("A price goes with “would fit” alone. Clear it, or choose that."))
        return cleaned

    def clean_follow_up(self):
        return not_past(self.cleaned_data["follow_up"])


class CloseForm(forms.Form):
    """Why an enquiry is closed."""

    reason = forms.CharField(
        max_length=200,
        label=lazy("Why"),
        help_text=lazy("Such as: too dear, does not fit, no answer."),
        error_messages={"required": "Say why, in a word or two."},
    )
