"""Two windows on one record: whether it was changed after the page that is sent now was opened, and both versions."""

import hashlib

from django import forms
from django.utils import timezone

SEEN = "seen"
"""The hidden field with the stamp of the record as the page showed it."""
BOTH = "Both versions are shown. Save again to use yours."


def stamp(record):
    """Changes with every change of the record; empty for one that is not saved yet."""
    return record.updated.isoformat() if record.pk else ""


def overtaken(record, data):
    """What to say where a form's data come from a page older than the record's last change; empty where not."""
    if not record.pk or data.get(SEEN, stamp(record)) == stamp(record):
        return ""
    when = timezone.localtime(record.updated)
    at = f"{when:%H:%M} on {when.day} {when:%B}"
    return f"Someone changed this at {at}, after you opened it. {BOTH}"


def tell_both(form):
    """Say on each field what is stored now, where something else was typed."""
    for name in form.changed_data:
        bound = form[name]
        if not bound.is_hidden and not isinstance(bound.field, forms.FileField):
            form.add_error(name, f"Saved now: {shown(bound)}")


def shown(bound):
    """The stored value of a field as a person reads it."""
    stored, field = bound.initial, bound.field
    if isinstance(field, forms.ModelChoiceField):
        stored = field.queryset.filter(pk=stored).first() if stored else None
    elif isinstance(field, forms.ChoiceField):
        stored = dict(field.choices).get(stored, stored)
    elif isinstance(field, forms.BooleanField):
        stored = "yes" if stored else "no"
    return "nothing" if stored in (None, "") else str(stored)


class SeenMixin:
    """A form that is not saved over what another window stored meanwhile: it is refused once, showing both.

    Its page carries `form.seen` in the hidden field; a page without it is taken for up to date.
    """

    @property
    def seen(self):
        """Changes with every change of what the form's fields would show."""
        told = [(name, str(self[name].initial)) for name in sorted(self.fields)]
        return hashlib.sha256(repr(told).encode()).hexdigest()[:20]

    def clean(self):
        cleaned = super().clean()
        if self.data.get(SEEN, self.seen) != self.seen:
            self.add_error(None, f"Someone changed this after you opened it. {BOTH}")
            tell_both(self)
        return cleaned


class StaleError(forms.ValidationError):
    """Somebody else saved in the meantime."""


class EditionMixin(forms.ModelForm):
    """A form that is not saved over a newer edition of its record.

    The page carries the edition it was opened at; where the record has moved on, the form is refused with what stands
    there now, and everything typed stays in its fields.
    """

    edition = forms.IntegerField(widget=forms.HiddenInput)

    def __init__(self, *args, **kwargs):
        super().__init__(*args, **kwargs)
        self.initial["edition"] = self.instance.edition
        self.now = {name: str(self[name].initial or "") for name in self.fields if name != "edition"}

    def clean(self):
        cleaned = super().clean()
        if (
            self.instance.pk
            and self.cleaned_data.get("edition") != type(self.instance).objects.get(pk=self.instance.pk).edition
        ):
            self._tell_what_stands_there()
        return cleaned

    def _tell_what_stands_there(self):
        self.add_error(None, StaleError(f"Someone changed this after you opened it. {BOTH}"))
        for name, stands in self.now.items():
            if str(self[name].value() or "") != stands:
                self.add_error(name, f"Saved now: {shown(self[name])}")
        self.data = self.data.copy()
        self.data[self.add_prefix("edition")] = self.instance.edition

    def save(self, commit=True):
        self.instance.edition += 1
        return super().save(commit)
