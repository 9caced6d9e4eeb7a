"""The form of a pairing: its parts, where the spacer goes, and for saving its name."""

from typing import Any

from django import forms

from parts.models import Pairing
from parts.models.pairing import PARTS
from parts.pairings.worksheet import typed_changes
from parts.tools.stale_guard import overtaken, tell_both


class PairingForm(forms.ModelForm):
    """Any part may be left open; a name is asked for only where the pairing is to be kept."""

    use_required_attribute = False
    """An empty name in the browser's own check would hold back every further answer to a changed number."""

    class Meta:
        model = Pairing
        fields = (*PARTS, "placement", "name", "notes")
        widgets = {"notes": forms.Textarea(attrs={"rows": 2})}

    def __init__(self, *args: Any, saving: bool = False, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.saving = saving
        self.fields["name"].required = saving
        self.fields["name"].error_messages["required"] = "Give the fit check a name to find it by."
        for name in PARTS:
            field = self.fields[name]
            field.empty_label = "not chosen"
            field.queryset = field.queryset.filter(archived=False) | field.queryset.filter(
                pk=getattr(self.instance, f"{name}_id")
            )
        for name in ("case", "dial"):
            self.fields[name].queryset = self.fields[name].queryset.select_related("family")

    def full_clean(self):
        super().full_clean()
        wrong = next((name for name in self.fields if name in self._errors), None)
        if wrong:
            self.fields[wrong].widget.attrs["autofocus"] = True

    def clean(self):
        cleaned = super().clean()
        if self.saving and (older := overtaken(self.instance, self.data)):
            self.add_error(None, older)
            tell_both(self)
            self._tell_numbers()
        self.instance.what_if = typed_changes(self.data)
        return cleaned

    def _tell_numbers(self):
        """Say which numbers to try are stored now, where others were typed."""
        stored, typed = self.instance.what_if, typed_changes(self.data)
        for path in sorted(stored.keys() | typed.keys()):
            if stored.get(path) != typed.get(path):
                name = path.replace(".", ", ").replace("_", " ")
                self.add_error(None, f"What if, {name}: saved now {stored.get(path, 'nothing')}")


class UploadForm(forms.Form):
    """A pairing sheet in JSON and the name that its parts get."""

    name = forms.CharField(max_length=80, help_text="The fit check and each of its new parts get this name.")
    sheet = forms.FileField(label="Fit sheet (JSON)", help_text="At most 200 kB.")

    def clean_sheet(self):
        file = self.cleaned_data["sheet"]
        if file.size > 200_000:
            raise forms.ValidationError(
                f"The file has {file.size // 1000} kB; a fit sheet has at most 200 kB. Choose another file."
            )
        try:
            return file.read().decode("utf-8-sig")
        except UnicodeDecodeError as error:
            raise forms.ValidationError(
                "This is not a text file in UTF-8. Choose a fit sheet as downloaded from a fit check."
            ) from error
