"""Forms for the records of the library: text in, dimensions with plus-minus and source out."""

from typing import Any

from django import forms
from django.utils.html import escape
from django.utils.translation import gettext_lazy as lazy

from parts.dimensions.field import Source
from parts.dimensions.form_field import DimensionField, PlainNumberField
from parts.dimensions.in_hand import NOTHING_IN_HAND, InHand
from parts.dimensions.outline_file import read_outline_file
from parts.dimensions.pieces import Piece
from parts.library.outline_field import OutlineField
from parts.models import Case, CaseFamily, Crown, Dial, DialFoot, DialFurniture, FootHole, Hand, HandSet, Movement, Stem
from parts.models.base import NAMELESS
from parts.tools.number_field import AmountField


class MeasuredForm(forms.ModelForm):
    """Fields of a record with dimensions; the model itself refuses what is outside the limits."""

    judged = True
    """Set to False to show what is typed without judging it, as when a row is added."""

    def __init__(self, *args: Any, hand: InHand = NOTHING_IN_HAND, sees_money: bool = False, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        if "cost" in self.fields:
            cost = self.fields.pop("cost")
            if sees_money:
                self.fields["cost"] = AmountField(label=cost.label, help_text=cost.help_text)
        if "name" in self.fields:
            self.fields["name"].error_messages["required"] = NAMELESS
        if "notes" in self.fields:
            self.fields["notes"].widget.attrs["rows"] = 2
        self.hand = hand
        self.doubts: dict[str, list[str]] = {}
        for name, dimension in self._meta.model.dimensions.items():
            spec = dimension.input
            path = dimension.path.replace("hands.hour.", f"hands.{getattr(self.instance, 'role', 'hour')}.")
            field = self.fields[name] = DimensionField(
                unit=spec.unit,
                bounded=spec.bounded,
                path=path,
                hand=hand,
                label=_capital(dimension.label),
                help_text=spec.where,
            )
            self.initial[name] = dimension.text(self.instance)
            source: Any = self.fields[f"{name}_source"]
            source.required = False
            source.widget.attrs |= {"class": "source", "aria-label": f"Where the {dimension.label} comes from"}
            if not spec.bounded:
                source.choices = [choice for choice in source.choices if choice[0] != Source.AT_LEAST]
            field.source = self._source_of(name, dimension)
        for name, piece in self._meta.model.pieces.items():
            is_outline = piece.rows is None
            self.fields[name] = OutlineField(piece, _capital(piece.label)) if is_outline else PieceField(piece)
            self.initial[name] = piece.text(self.instance)
            if is_outline:
                self.fields[f"{name}{FROM_FILE}"] = DrawingField(piece)

    @property
    def errors(self):
        return super().errors if self.judged else forms.utils.ErrorDict()

    def clean(self):
        """What stands as it stood keeps its plus-minus, its source and how it was taken."""
        cleaned = super().clean()
        for name, dimension in self._meta.model.dimensions.items():
            if name not in cleaned:
                continue
            taken, source = cleaned[name], f"{name}_source"
            if name not in self.changed_data:
                value, plus_minus, stood = dimension.of(self.instance)
                picked = cleaned.get(source) or stood
                if picked != stood:
                    dimension.put(
                        self.instance, value, plus_minus, Source.AT_LEAST if stood == Source.AT_LEAST else picked
                    )
            elif taken is None:
                dimension.put(self.instance, None, source=dimension.usual_source)
            else:
                dimension.put_taken(self.instance, taken, self.fields[name].source)
            cleaned[name], _, cleaned[source] = dimension.of(self.instance)
        for name in self._meta.model.pieces:
            if drawn := cleaned.get(f"{name}{FROM_FILE}"):
                cleaned[name] = drawn
            if name in cleaned:
                setattr(self.instance, name, cleaned[name])
                if cleaned[name] is None and self.data.get(f"{self.add_prefix(name)}_shape") == "polyline":
                    self.add_error(
                        name, lazy("Type the outline's points, or choose a drawing of it under More, seldom needed.")
                    )
        return cleaned

    def _source_of(self, name, dimension):
        """Where a number that is typed comes from: what was chosen as its source, else what is in hand."""
        picked, source = self[f"{name}_source"], dimension.usual_source
        if self.is_bound and picked.data in Source.values and picked.data != picked.initial:
            return picked.data
        if source != Source.MEASURED or self.hand.instrument is None:
            return source
        return self.hand.source


class PieceField(forms.CharField):
    """A whole piece of the fit sheet, typed as text: a rim's profile, small hands."""

    def __init__(self, piece: Piece) -> None:
        super().__init__(
            required=False,
            label=_capital(piece.label),
            help_text=escape(piece.pattern),
            max_length=400_000,
            widget=forms.Textarea(attrs={"rows": 2}),
        )
        self.piece = piece

    def clean(self, value: Any) -> Any:
        return self.piece.read(super().clean(value))


FROM_FILE = "_file"
"""Behind an outline's name, the field that reads it from a drawing."""


class DrawingField(forms.FileField):
    """A drawing that the outline is read from, in place of what stands in its field."""

    def __init__(self, piece: Piece) -> None:
        super().__init__(
            required=False,
            label=lazy("{piece} from a drawing").format(piece=_capital(piece.label)),
            help_text=lazy("DXF, its origin on the hands’ axis, or plain SVG, its middle there."),
        )
        self.widget.attrs["accept"] = ".dxf,.svg"

    def clean(self, value: Any, initial: Any = None) -> Any:
        upload = super().clean(value, initial)
        if not upload:
            return None
        return {"shape": "polyline", "points": read_outline_file(upload.name, upload.read())}


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


_KEPT = ("in_stock", "supplier", "supplier_number", "cost", "notes")


class CaseFamilyForm(MeasuredForm):
    class Meta:
        model = CaseFamily
        fields = ["name", "notes"]


class CaseForm(FamilyPicker):
    class Meta:
        model = Case
        fields = _columns(Case, "family", "name", "loading", "ring", *Case.MATERIALS, *_KEPT)


class DialForm(FamilyPicker):
    class Meta:
        model = Dial
        fields = _columns(
            Dial, "family", "name", "feet_recorded", "fixing", "out_of", "rests_on", "has_window", "day_window", *_KEPT
        )


class MovementForm(MeasuredForm):
    rate_low_s_per_day = PlainNumberField(
        unit=Movement.units["rate_low_s_per_day"],
        label=lazy("Slowest rate promised"),
        help_text=lazy("losing is minus"),
    )
    rate_high_s_per_day = PlainNumberField(
        unit=Movement.units["rate_high_s_per_day"],
        label=lazy("Fastest rate promised"),
        help_text=lazy("gaining is plus"),
    )
    crystal_coefficient = PlainNumberField(
        unit=Movement.units["crystal_coefficient"],
        label=lazy("Crystal's coefficient"),
        help_text=lazy("below zero, about -0.03 for a tuning fork"),
    )
    crystal_turnover = PlainNumberField(
        unit=Movement.units["crystal_turnover"],
        label=lazy("Crystal's turnover temperature"),
        help_text=lazy("where it runs fastest, about 25"),
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
    has_seconds = forms.BooleanField(required=False, label=lazy("Has a seconds hand"))

    class Meta:
        model = HandSet
        fields = ["name", "shape", "colour", "lume", *_KEPT]


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
