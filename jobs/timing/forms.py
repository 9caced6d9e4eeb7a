"""Forms of the timing test."""

from datetime import timedelta

from django import forms
from django.utils import timezone
from django.utils.translation import gettext_lazy as lazy

from jobs.models import TimingRun
from parts.tools.number_field import NumberField
from parts.tools.stale_guard import StaleGuard

LONGEST_BACK = timedelta(days=400)
"""A reading older than this is taken for a slip of the date."""


class RunForm(StaleGuard, forms.ModelForm):
    """What is noted of a run."""

    bench_temperature = NumberField(
        required=False, lowest=-20, highest=60, unit="°C", help_text=lazy("°C; converts the rate to the wrist")
    )
    cell_voltage = NumberField(required=False, lowest=0, highest=20, unit="V", help_text=lazy("V, under load"))
    current_draw = NumberField(required=False, lowest=0, highest=1000, unit="µA", help_text=lazy("µA, mean"))

    class Meta:
        model = TimingRun
        fields = ("as_found", "bench_temperature", "cell_voltage", "current_draw", "note")


class TypedForm(forms.Form):
    """A reading read off and typed."""

    offset_s = NumberField(
        lowest=-43_200, highest=43_200, unit="s", label=lazy("Watch ahead by"), help_text=lazy("minus for behind")
    )
    plus_minus_s = NumberField(
        required=False,
        lowest=0.01,
        highest=600,
        unit="s",
        label=lazy("Read to ±"),
        help_text=lazy("The most it can be off. Blank takes the shop's tap uncertainty."),
    )
    at = forms.DateTimeField(
        label=lazy("At"),
        required=False,
        help_text=lazy("Blank means now."),
        widget=forms.DateTimeInput({"type": "datetime-local", "step": 1}),
        error_messages={
            "invalid": "This is not a date and time. Enter when you read the watch, or leave it blank for now."
        },
    )

    def clean_plus_minus_s(self):
        return self.cleaned_data["plus_minus_s"] or 0.0

    def clean_at(self):
        now = timezone.now()
        at = self.cleaned_data["at"] or now
        if at > now + timedelta(minutes=1):
            raise forms.ValidationError(
                lazy("{at:%-d %b %Y, %H:%M} is in the future. Enter when you read the watch.").format(at=at)
            )
        if at < now - LONGEST_BACK:
            raise forms.ValidationError(
                lazy(
                    "{at:%-d %b %Y, %H:%M} is more than {LONGEST_BACK.days} days back. Enter when you read the watch."
                ).format(at=at, LONGEST_BACK=LONGEST_BACK)
            )
        return at
