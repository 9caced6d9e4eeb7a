"""Forms of the measuring mats and of a new picture."""

from __future__ import annotations

from typing import Any, cast

from django import forms
from django.utils.translation import gettext_lazy as lazy

from parts.models import MatPrint, Scanner
from parts.picture.mat import BAR
from parts.picture.subjects import SUBJECTS
from parts.tools.number_field import NumberField
from parts.tools.pictures import TYPES

SUBJECTS_OF = {
    "dial": ("dial-front", "dial-back"),
    "movement": ("movement",),
    "hands": ("hand-hour", "hand-minute", "hand-seconds"),
    "case": ("case-back", "watch-front"),
}
"""What can be measured in a picture of each kind of part."""
_OFF = 0.03
"""Share by which a bar may come off the printer wrong before it is taken for a mistyped one."""


class PrintForm(forms.ModelForm):
    """A new print of the mat."""

    class Meta:
        model = MatPrint
        fields = ("field", "paper")


def _bar(label: str) -> NumberField:
    return NumberField(label=label, unit="mm", lowest=BAR * (1 - _OFF), highest=BAR * (1 + _OFF))


class BarsForm(forms.ModelForm):
    """What the calliper read over both bars of a print."""

    across = _bar("Bar across")
    down = _bar("Bar down")
    plus_minus = NumberField(label=lazy("± of the calliper"), unit="mm", lowest=0.005, highest=0.5)

    class Meta:
        model = MatPrint
        fields = ("across", "down", "plus_minus")


class ScannerForm(forms.Form):
    """A flat scanner, and its scan of a measured print of a mat."""

    name = forms.CharField(max_length=60, error_messages={"required": "Give the scanner a name to know it by."})
    scan = forms.FileField(
        label=lazy("Its scan of a mat"),
        widget=forms.ClearableFileInput(attrs={"accept": TYPES}),
        error_messages={"required": "Choose the scan of a mat."},
    )


class PictureForm(forms.Form):
    """A picture, what it shows, and the height of the measured face over the mat."""

    subject = forms.ChoiceField(label=lazy("What it shows"))
    file = forms.FileField(
        label=lazy("Picture"),
        widget=forms.ClearableFileInput(attrs={"accept": TYPES, "capture": "environment"}),
        error_messages={"required": "Choose a picture, or take one."},
    )
    scanner = forms.ModelChoiceField(
        Scanner.objects.in_drawers(), label=lazy("Taken with"), required=False, empty_label=lazy("a camera, on a mat")
    )
    height = NumberField(label=lazy("Height of the face over the mat"), unit="mm", lowest=0, highest=30, required=False)
    height_pm = NumberField(label=lazy("Its ±"), unit="mm", lowest=0, highest=5, required=False, initial=0.1)

    def __init__(self, *args: Any, part: str, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        keys = SUBJECTS_OF.get(part, ())
        subject = cast("forms.ChoiceField", self.fields["subject"])
        subject.choices = [(key, SUBJECTS[key].title) for key in keys]
        if not Scanner.objects.in_drawers().exists():
            del self.fields["scanner"]
        faces = " or ".join(dict.fromkeys(SUBJECTS[key].height for key in keys))
        self.fields["height"].help_text = f"Of {faces}. Blank is 0: level with the paper, or on a scanner’s glass."
