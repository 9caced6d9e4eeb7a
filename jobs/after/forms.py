"""Forms of looking after: the day of something, a promise, and a message as it will go."""

from __future__ import annotations

from django import forms
from django.utils import timezone
from django.utils.translation import gettext_lazy as lazy

from jobs.models import FollowUp
from parts.tools.dates import DateInput, not_ahead


class DayForm(forms.Form):
    """The day on which something was done or asked."""

    on = forms.DateField(label=lazy("Day"), widget=DateInput())

    def __init__(self, *args, **kwargs):
        super().__init__(*args, **kwargs)
        self.initial["on"] = timezone.localdate()

    def clean_on(self):
        return not_ahead(self.cleaned_data["on"])


class PromiseForm(forms.ModelForm):
    """What was promised, and for when."""

    class Meta:
        model = FollowUp
        fields = ("begins", "words")
        widgets = {"begins": DateInput()}
        labels = {"begins": "For which day"}

    def __init__(self, *args, **kwargs):
        super().__init__(*args, **kwargs)
        self.fields["words"].required = True


class LetterForm(forms.Form):
    """A message as it will go."""

    subject = forms.CharField(max_length=150)
    body = forms.CharField(label=lazy("Message"), max_length=5000, widget=forms.Textarea({"rows": 12}))
