"""Forms of a photo's page: its caption, its pair, a mark drawn on it."""

from __future__ import annotations

from typing import Any

from django import forms

from jobs.models import Photo
from jobs.photos.marks import KINDS

_SHARE = {"min_value": 0, "max_value": 100}


class CaptionForm(forms.ModelForm):
    class Meta:
        model = Photo
        fields = ("caption",)


class PairForm(forms.Form):
    """Which photo shows the same before the work."""

    before = forms.ModelChoiceField(
        Photo.objects.none(), required=False, label="The same before the work", empty_label="none"
    )

    def __init__(self, *args: Any, photo: Photo, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        others = Photo.objects.filter(job=photo.job_id, archived=False, kind=Photo.Kind.WATCH).exclude(pk=photo.pk)
        self.fields["before"].queryset = others
        self.fields["before"].label_from_instance = _named
        self.initial["before"] = photo.before_id


def _named(photo):
    """A photo in a list to choose from: its number on the job's page, its words, its day."""
    place = Photo.objects.filter(job=photo.job_id, archived=False, place__lt=photo.place).count() + 1
    return f"{place}: {photo.caption or photo.stage}, {photo.taken:%-d %b}"


class MarkForm(forms.Form):
    """A mark by its points, in percent of the picture's width and height from its upper left corner."""

    kind = forms.ChoiceField(choices=KINDS, label="Mark", initial="arrow", widget=forms.RadioSelect)
    text = forms.CharField(max_length=60, required=False, label="Words")
    x = forms.FloatField(label="From the left", **_SHARE)
    y = forms.FloatField(label="From the top", **_SHARE)
    x2 = forms.FloatField(label="To, from the left", required=False, **_SHARE)
    y2 = forms.FloatField(label="To, from the top", required=False, **_SHARE)

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        for name in ("x", "y", "x2", "y2"):
            self.fields[name].unit = "%"
            self.fields[name].widget.attrs["step"] = "any"

    def clean(self):
        cleaned = super().clean()
        if cleaned.get("kind") == "text":
            if not cleaned.get("text"):
                self.add_error("text", "Type the words to write on the photo.")
        elif cleaned.get("kind"):
            for name in ("x2", "y2"):
                if cleaned.get(name) is None and name not in self._errors:
                    self.add_error(name, "Enter the second point: an arrow's tip, or a point on the ring.")
        return cleaned

    @property
    def mark(self) -> dict[str, Any]:
        """The mark as it is kept, its points as shares."""
        typed = self.cleaned_data
        points = ("x", "y") if typed["kind"] == "text" else ("x", "y", "x2", "y2")
        words = {"text": typed["text"]} if typed["kind"] == "text" else {}
        return {"kind": typed["kind"], **{name: round(typed[name] / 100, 5) for name in points}, **words}
