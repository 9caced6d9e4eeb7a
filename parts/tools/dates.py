"""Days in forms."""

from django import forms
from django.utils import timezone
from django.utils.translation import gettext_lazy as lazy


class DateInput(forms.DateInput):
    input_type = "date"

    def __init__(self):
        super().__init__(format="%Y-%m-%d")


def not_ahead(day):
    """The day, refused where it has not come yet."""
    if day > timezone.localdate():
        raise forms.ValidationError(
            lazy("{day:%-d %b %Y} is in the future. Enter the day it happened.").format(day=day)
        )
    return day


def not_past(day):
    """The day, None where none is given; refused where it is over."""
    if day and day < timezone.localdate():
        raise forms.ValidationError(
            lazy("{day:%-d %b %Y} is in the past. Choose today or later, or leave it blank.").format(day=day)
        )
    return day
