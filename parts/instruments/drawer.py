"""The page where a shop keeps its instruments: their forms, judged and saved together."""

from __future__ import annotations

from typing import Any

from django import forms
from django.db import transaction
from django.utils.translation import gettext_lazy as lazy

from parts.models import Instrument
from parts.tools.number_field import NumberField
from parts.tools.stale_guard import refuse_stale, stamp_of


class _Figure(NumberField):
    """A figure as it is written: 0 and not 0.0."""

    def prepare_value(self, value):
        return f"{value:g}" if isinstance(value, float) else value


class InstrumentForm(forms.ModelForm):
    """One instrument; a new one without a name is left out."""

    limit_mm = _Figure(lowest=0.0001, highest=5.0, unit="mm", label=lazy("Limit of error, ±"))
    step_mm = _Figure(lowest=0.0, highest=1.0, unit="mm", label=lazy("Resolution"), required=False)
    limit_deg = _Figure(lowest=0.01, highest=45.0, unit="°", label=lazy("Of an angle, ±"), required=False)

    class Meta:
        model = Instrument
        fields = ("name", "kind", "limit_mm", "step_mm", "limit_deg", "position")

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.fields["position"].required = False

    def clean_step_mm(self):
        return self.cleaned_data["step_mm"] or 0.0

    def clean_position(self):
        place = self.cleaned_data["position"]
        return Instrument._meta.get_field("position").default if place is None else place

    def has_changed(self):
        if self.instance.pk:
            return super().has_changed()
        return bool({"name", "limit_mm", "step_mm", "limit_deg"} & {*self.changed_data})


_FormSet: Any = forms.modelformset_factory(Instrument, form=InstrumentForm, extra=1, max_num=60, validate_max=True)


class Drawer:
    """The forms of the instruments in use, with an empty one; pass `data` (a POST) to judge and save them.

    `stamp` is the stamp of what is saved now.
    """

    def __init__(self, *, data: Any = None) -> None:
        self.formset = _FormSet(data, queryset=Instrument.objects.filter(archived=False), prefix="instrument")
        self.stamp: str = stamp_of(*self.formset.initial_forms) if data is None else Drawer().stamp

    @property
    def archived(self):
        return Instrument.objects.filter(archived=True)

    def is_valid(self):
        """Judge what was typed; False puts every fault on its field."""
        sound = self.formset.is_valid()
        head = next(iter(self.formset.forms), None)
        return not (head and refuse_stale(head, self.stamp, self.formset.initial_forms)) and sound

    @transaction.atomic
    def save(self):
        """Save the instruments."""
        self.formset.save()
