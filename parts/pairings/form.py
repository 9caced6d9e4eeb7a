"""The form of a pairing: its parts, where the spacer goes, and for saving its name."""

from typing import Any

from django import forms
from django.db.models import Q
from django.utils.text import capfirst
from django.utils.translation import gettext_lazy as lazy

from parts.library.picker import PartField, role_of, with_hand
from parts.models import Pairing
from parts.models.pairing import OTHER_HANDS, PARTS, TRIED
from parts.pairings.worksheet import typed_changes
from parts.tools.stale_guard import StaleGuard, stamp_of


def _field_of(column, **kwargs):
    """The form field of a column: a part is found by typing."""
    if column.name not in (*PARTS, *OTHER_HANDS):
        return column.formfield(**kwargs)
    role = role_of(column.name)
    empty = "the hand set above" if role else "not chosen"
    records = column.related_model.objects.all()
    label, help_text = capfirst(column.verbose_name), column.help_text
    return PartField(records, role=role, empty=empty, label=label, help_text=help_text)


class PairingForm(StaleGuard, forms.ModelForm):
    """Any part may be left open; a name is asked for only where the pairing is to be kept."""

    use_required_attribute = False
    """An empty name in the browser's own check would hold back every further answer to a changed number."""

    class Meta:
        model = Pairing
        fields = (*PARTS, *OTHER_HANDS, "no_seconds_hand", *TRIED, "placement", "name", "notes")
        formfield_callback = _field_of
        widgets = {"notes": forms.Textarea(attrs={"rows": 2})}

    def __init__(self, *args: Any, saving: bool = False, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.saving, self.saved_numbers = saving, dict(self.instance.what_if)
        self.fields["name"].required = saving
        self.fields["name"].error_messages["required"] = "Give the fit check a name to find it by."
        for name in (*PARTS, *OTHER_HANDS):
            self.fields[name].widget.record = getattr(self.instance, name)
            if self.is_bound:
                self.fields[name].queryset = self._choice(name)

    def _choice(self, name):
        """The parts that may be chosen: those that are not archived, and the one that is chosen already."""
        model, role = self.fields[name].queryset.model, role_of(name)
        parts = model.objects.filter(Q(archived=False) | Q(pk=getattr(self.instance, f"{name}_id")))
        return with_hand(parts, role) if role else parts

    def clean(self):
        cleaned = super().clean()
        if cleaned.get("no_seconds_hand") and cleaned.get("seconds_hand_from"):
            self.add_error("no_seconds_hand", lazy("A seconds hand is chosen from another set: take one of them back."))
        return cleaned

    def _post_clean(self):
        """Put what was typed into the pairing, as model forms do, and with it the numbers to try."""
        super()._post_clean()
        self.instance.what_if = typed_changes(self.data)

    @property
    def single_hands(self):
        """The fields for hands from other sets and for what trying them said, and whether any of them is filled in."""
        fields = [self[name] for name in (*OTHER_HANDS, "no_seconds_hand", *TRIED)]
        return fields, any(field.value() for field in fields)

    @property
    def stamp(self):
        return stamp_of(self, also=self.saved_numbers)

    @property
    def is_guarded(self):
        return self.saving and self.instance.pk is not None and self.instance.draft_key is None

    def tell_what_else_differs(self):
        """Say which numbers to try are saved now, where others were typed."""
        saved, typed = self.saved_numbers, typed_changes(self.data)
        for path in sorted(saved.keys() | typed.keys()):
            if saved.get(path) != typed.get(path):
                name = path.replace(".", ", ").replace("_", " ")
                self.add_error(
                    None, lazy("What if, {name}: saved now {now}").format(name=name, now=saved.get(path, "nothing"))
                )


class UploadForm(forms.Form):
    """A pairing sheet in JSON and the name that its parts get."""

    name = forms.CharField(max_length=80, help_text=lazy("The fit check and each of its new parts get this name."))
    sheet = forms.FileField(label=lazy("Fit sheet (JSON)"), help_text=lazy("At most 200 kB."))

    def clean_sheet(self):
        file = self.cleaned_data["sheet"]
        if file.size > 200_000:
            raise forms.ValidationError(
                lazy("The file has {size} kB; a fit sheet has at most 200 kB. Choose another file.").format(
                    size=file.size // 1000
                )
            )
        try:
            return file.read().decode("utf-8-sig")
        except UnicodeDecodeError as error:
            raise forms.ValidationError(
                lazy("This is not a text file in UTF-8. Choose a fit sheet as downloaded from a fit check.")
            ) from error
