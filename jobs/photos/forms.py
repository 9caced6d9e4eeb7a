"""Forms of a photo's page: its caption, its pair, a mark drawn on it."""

from __future__ import annotations

from typing import Any

from django import forms
from django.utils.translation import gettext_lazy as lazy

from jobs.models import Photo
from jobs.photos.marks import KINDS


class CaptionForm(forms.ModelForm):
    class Meta:
        model = Photo
        fields = ("caption",)


class PairForm(forms.Form):
    """Which photo shows the same before the work."""

    before = forms.ModelChoiceField(
        Photo.objects.none(), required=False, label=lazy("The same before the work"), empty_label=lazy("none")
    )

    def __init__(self, *args: Any, photo: Photo, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        shown = Photo.objects.filter(job=photo.job_id, archived=False)
        places = {each.pk: place for place, each in enumerate(shown, start=1)}
        field: Any = self.fields["before"]
        field.queryset = shown.filter(kind=Photo.Kind.WATCH).exclude(pk=photo.pk)
        field.label_from_instance = lambda each: f"{places[each.pk]}: {each.caption or each.stage}, {each.taken:%-d %b}"
        self.initial["before"] = photo.before_id


def _percent(label: str, *, required: bool = True) -> Any:
    field: Any = forms.FloatField(label=label, min_value=0, max_value=100, required=required)
    field.unit = "%"
    field.widget.attrs["step"] = "any"
    return field


class MarkForm(forms.Form):
    """A mark by its points, in percent of the picture's width and height from its upper left corner."""

    kind = forms.ChoiceField(choices=KINDS, label=lazy("Mark"), initial="arrow", widget=forms.RadioSelect)
    text = forms.CharField(max_length=60, required=False, label=lazy("Words"))
    x = _percent("From the left")
    y = _percent("From the top")
    x2 = _percent("To, from the left", required=False)
    y2 = _percent("To, from the top", required=False)

    def clean(self):
        cleaned = super().clean()
        if cleaned.get("kind") == "text":
            if not cleaned.get("text"):
                self.add_error("text", lazy("Type the words to write on the photo."))
        elif cleaned.get("kind"):
            for name in ("x2", "y2"):
                if cleaned.get(name) is None and name not in self._errors:
                    self.add_error(name, lazy("Enter the second point: an arrow's tip, or a point on the ring."))
        return cleaned

    @property
    def mark(self) -> dict[str, Any]:
        """The mark as it is kept, its points as shares."""
        typed = self.cleaned_data
        points = ("x", "y") if typed["kind"] == "text" else ("x", "y", "x2", "y2")
        words = {"text": typed["text"]} if typed["kind"] == "text" else {}
        return {"kind": typed["kind"], **{name: round(typed[name] / 100, 5) for name in points}, **words}
