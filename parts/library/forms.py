"""Forms for the records of the library: text in, dimensions with plus-minus and source out."""

from typing import Any

from django import forms

from parts.dimensions.field import Source
from parts.dimensions.text import DimensionError, read_dimension
from parts.models import Case, CaseFamily, Crown, Dial, DialFoot, DialFurniture, FootHole, Hand, HandSet, Movement, Stem
from parts.models.base import NAMELESS


class DimensionField(forms.CharField):
    """One text input for a value and its plus-minus; cleans to a Reading, or None where nothing is typed."""

    def __init__(self, *, unit: str, bounded: bool = False, **kwargs: Any) -> None:
        self.unit, self.bounded = unit, bounded
        kwargs.setdefault("required", False)
        super().__init__(max_length=200, **kwargs)
        self.widget.attrs |= {"class": "number-input", "autocomplete": "off"}

    def clean(self, value):
        try:
            return read_dimension(super().clean(value), unit=self.unit, bounded=self.bounded)
        except DimensionError as error:
            raise forms.ValidationError(str(error), code="dimension") from error


class PlainNumberField(DimensionField):
    """A number with a unit that has no plus-minus."""

    def clean(self, value):
        reading = super().clean(value)
        if reading and reading.plus_minus:
            raise forms.ValidationError(f"“{value}” has a ±, which is not used here. Type the number alone.")
        return reading and reading.value


class MeasuredForm(forms.ModelForm):
    """Fields of a record with dimensions; the model itself refuses what is outside the limits."""

    judged = True
    """Set to False to show what is typed without judging it, as when a row is added."""

    def __init__(self, *args, **kwargs):
        super().__init__(*args, **kwargs)
        if "name" in self.fields:
            self.fields["name"].error_messages["required"] = NAMELESS
        if "notes" in self.fields:
            self.fields["notes"].widget.attrs["rows"] = 3
        for name, dimension in self._meta.model.dimensions.items():
            spec = dimension.input
            self.fields[name] = DimensionField(
                unit=spec.unit, bounded=spec.bounded, label=_capital(dimension.label), help_text=spec.where
            )
            self.initial[name] = dimension.text(self.instance)
            source = self.fields[f"{name}_source"]
            source.required = False
            source.widget.attrs |= {"class": "source", "aria-label": f"Where the {dimension.label} comes from"}
            if not spec.bounded:
                source.choices = [choice for choice in source.choices if choice[0] != Source.AT_LEAST]

    @property
    def errors(self):
        return super().errors if self.judged else forms.utils.ErrorDict()

    def clean(self):
        cleaned = super().clean()
        for name, dimension in self._meta.model.dimensions.items():
            if name in cleaned:
                reading = cleaned[name]
                cleaned[name] = reading and reading.value
                setattr(self.instance, dimension.columns[1], reading.plus_minus if reading else 0.0)
                if reading and reading.at_least:
                    cleaned[f"{name}_source"] = Source.AT_LEAST
        return cleaned


class RowForm(MeasuredForm):
    """A row of a part. A new row in which only the source was chosen counts as left empty."""

    def has_changed(self):
        if self.instance.pk:
            return super().has_changed()
        return any(not name.endswith("_source") for name in self.changed_data)


class FamilyPicker(MeasuredForm):
    """A form whose record may belong to a case family."""

    def __init__(self, *args, **kwargs):
        super().__init__(*args, **kwargs)
        field = self.fields["family"]
        field.label = "Case family"
        field.empty_label = "no family"
        field.queryset = CaseFamily.objects.in_drawers() | CaseFamily.objects.filter(pk=self.instance.family_id)


def _columns(model, *plain):
    return [
        *plain,
        *(column for dimension in model.dimensions.values() for column in (dimension.name, dimension.columns[2])),
    ]


def _capital(text):
    return text[:1].upper() + text[1:]


_KEPT = ("in_stock", "notes")


class CaseFamilyForm(MeasuredForm):
    class Meta:
        model = CaseFamily
        fields = ["name", "notes"]


class CaseForm(FamilyPicker):
    class Meta:
        model = Case
        fields = _columns(Case, "family", "name", "loading", *_KEPT)


class DialForm(FamilyPicker):
    class Meta:
        model = Dial
        fields = _columns(
            Dial, "family", "name", "feet_recorded", "fixing", "out_of", "has_window", "day_window", *_KEPT
        )


class MovementForm(MeasuredForm):
    rate_low_s_per_day = PlainNumberField(
        unit=Movement.units["rate_low_s_per_day"], label="Slowest rate promised", help_text="losing is minus"
    )
    rate_high_s_per_day = PlainNumberField(
        unit=Movement.units["rate_high_s_per_day"], label="Fastest rate promised", help_text="gaining is plus"
    )
    crystal_coefficient = PlainNumberField(
        unit=Movement.units["crystal_coefficient"],
        label="Crystal's coefficient",
        help_text="below zero, about -0.03 for a tuning fork",
    )
    crystal_turnover = PlainNumberField(
        unit=Movement.units["crystal_turnover"],
        label="Crystal's turnover temperature",
        help_text="where it runs fastest, about 25",
    )

    class Meta:
        model = Movement
        fields = _columns(
            Movement,
            "name",
            "kind",
            "declared_size",
            "foot_holes_recorded",
            "has_date",
            "has_day",
            "rate_low_s_per_day",
            "rate_high_s_per_day",
            "crystal_coefficient",
            "crystal_turnover",
            "cell_type",
            *_KEPT,
        )


class HandSetForm(MeasuredForm):
    has_seconds = forms.BooleanField(required=False, label="Has a seconds hand")

    class Meta:
        model = HandSet
        fields = ["name", "lume", *_KEPT]


class StemForm(MeasuredForm):
    class Meta:
        model = Stem
        fields = _columns(Stem, "name", *_KEPT)


class CrownForm(MeasuredForm):
    class Meta:
        model = Crown
        fields = _columns(Crown, "name", "style", "out_of", *_KEPT)


class HandForm(RowForm):
    class Meta:
        model = Hand
        fields = _columns(Hand)


class FootForm(RowForm):
    class Meta:
        model = DialFoot
        fields = _columns(DialFoot)


class FurnitureForm(RowForm):
    class Meta:
        model = DialFurniture
        fields = _columns(DialFurniture, "name")


class FootHoleForm(RowForm):
    class Meta:
        model = FootHole
        fields = _columns(FootHole)
