"""Two windows on one record: what comes from a page older than the record is refused once, showing both versions.

The one guard for every form. A page carries a stamp, a digest of what its forms showed. What is sent is compared with
what they would show now, and saved, in one transaction that holds the record's row (`one_transaction`, `for_saving`):
nobody saves between the comparison and the saving. A page without a stamp is taken for up to date.
"""

import hashlib
from functools import wraps

from django import forms
from django.db import transaction
from django.utils.translation import gettext_lazy as lazy

STAMP = "stamp"
"""The hidden field with the stamp of what the page showed."""
STALE = "Someone changed this after you opened it. Both versions are shown. Save again to use yours."
_LOOKING = ("GET", "HEAD", "OPTIONS")


class StalePage(ValueError):
    """What was sent comes from a page older than what is saved; says what is there now and what to do."""


def one_transaction(view):
    """Run what is sent to a view in one transaction: all of it is saved, or nothing."""

    @wraps(view)
    def action(request, *args, **kwargs):
        if request.method in _LOOKING:
            return view(request, *args, **kwargs)
        with transaction.atomic():
            return view(request, *args, **kwargs)

    return action


def for_saving(request, records):
    """The records to choose one from, its row held until the transaction ends where something is sent to be saved.

    No request: the record is only read.
    """
    is_read = request is None or request.method in _LOOKING
    return records if is_read else records.select_for_update(of=("self",))


def stamp_of(*shown: forms.BaseForm, also: object = None) -> str:
    """Changes with every change of what these forms show, and of what else the page tells (`also`)."""
    fields = [(form.prefix, name, str(form[name].initial)) for form in shown for name in sorted(form.fields)]
    return hashlib.sha256(repr((fields, also)).encode()).hexdigest()[:20]


def tell_both(form):
    """Say on each field what is saved now, where something else was typed."""
    for name in form.changed_data:
        bound = form[name]
        if not bound.is_hidden and not isinstance(bound.field, forms.FileField):
            form.add_error(name, lazy("Saved now: {now}").format(now=shown(bound)))


def shown(bound):
    """The saved value of a field as a person reads it."""
    saved, field = bound.initial, bound.field
    if isinstance(field, forms.ModelChoiceField):
        saved = field.queryset.filter(pk=saved).first() if saved else None
    elif isinstance(field, forms.ChoiceField):
        saved = dict(field.choices).get(saved, saved)
    elif isinstance(field, forms.BooleanField):
        saved = "yes" if saved else "no"
    return "nothing" if saved in (None, "") else str(saved)


def refuse_stale(form, stamp, forms=()):
    """Refuse what was sent from a page older than what is saved; returns whether it was.

    `stamp` is that of what is saved now. The words go to the head of `form`, and on the fields of `forms` what is saved
    now, where something else was typed.
    """
    if form.data.get(STAMP, stamp) == stamp:
        return False
    form.add_error(None, STALE)
    for each in forms:
        tell_both(each)
    return True


class StaleGuard:
    """For a form that changes what is saved already: its page carries `form.stamp` in the hidden field.

    What is sent from an older page is refused, with what is saved now on each field that differs.
    """

    @property
    def stamp(self):
        return stamp_of(self)

    @property
    def is_guarded(self):
        """Nothing is saved yet of a new record, so no window can be older."""
        return getattr(self, "instance", None) is None or self.instance.pk is not None

    def clean(self):
        cleaned = super().clean()
        if self.is_guarded and refuse_stale(self, self.stamp, [self]):
            self.tell_what_else_differs()
        return cleaned

    def tell_what_else_differs(self):
        """For what a page tells beside its fields."""
