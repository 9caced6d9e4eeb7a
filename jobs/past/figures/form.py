"""The days that the numbers of the shop are reckoned over."""

from datetime import timedelta

from django import forms
from django.utils import timezone
from django.utils.translation import gettext_lazy as lazy

from parts.tools.dates import DateInput

STEPS = [("month", "month"), ("quarter", "quarter"), ("year", "year")]


class FiguresForm(forms.Form):
    """First and last day of closing, and the step of the turnaround; the last twelve months to begin with."""

    since = forms.DateField(required=False, widget=DateInput, label=lazy("Closed from"))
    until = forms.DateField(required=False, widget=DateInput, label=lazy("Closed until"))
    step = forms.ChoiceField(required=False, choices=STEPS, label=lazy("Turnaround by"))

    def __init__(self, data):
        data = {name: text.replace("\0", " ") for name, text in data.items()}
        if "since" not in data and "until" not in data:
            data["since"] = f"{timezone.localdate() - timedelta(days=365):%Y-%m-%d}"
        super().__init__({"step": "quarter"} | data)

    def clean(self):
        cleaned = super().clean()
        since, until = cleaned.get("since"), cleaned.get("until")
        if since and until and since > until:
            self.add_error(
                "until",
                lazy("{until:%-d %b %Y} is before {since:%-d %b %Y}. Swap the two days.").format(
                    until=until, since=since
                ),
            )
        cleaned["step"] = cleaned.get("step") or "quarter"
        return cleaned
