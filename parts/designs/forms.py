"""The forms of a design: its dimensions, each empty where the proposal stands; how it turned out; a measured print."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import MISSING, fields
from math import ceil
from typing import TYPE_CHECKING, Any

from django import forms
from django.core.exceptions import ValidationError
from django.utils.translation import gettext_lazy as lazy

from parts.designs.fields import NONE, field_of, text_of
from parts.dimensions.text import show_dimension
from parts.fit.errors import SheetError
from parts.holder.coupon import INSIDES, OUTSIDES, PLAYS, heights
from parts.holder.mesh import opens_at, solid_of, splits_at
from parts.holder.parameters import KINDS, Made, from_plain
from parts.library.forms import PlainNumberField
from parts.models import HolderDesign, PrintedPiece
from parts.tools.number_field import NumberField
from parts.tools.stale_guard import StaleGuard

if TYPE_CHECKING:
    from collections.abc import Callable
    from typing import TypeAlias

    from parts.holder.parameters import Piece
    from parts.holder.proposals import Proposed

    Propose: TypeAlias = Callable[[Mapping[str, Any]], Mapping[str, Proposed]]


_SPLITS = {
    "keys": "A key touches nothing there: take it to where the wall is.",
    "cutouts": "The cut-outs leave a piece loose: make them less deep than the wall, or farther apart.",
    "channel_width": "The channel cuts the ring apart: make it narrower, or move its axis.",
    "notch_depth": "The finger notch leaves a piece loose: make it less deep, or turn it elsewhere.",
    "lip": "The grip lip leaves a piece loose: make it smaller than the wall behind the notch.",
    "nub_count": "A nub has no ring below it, over the channel, the notch or a cut-out: turn the nubs, or take fewer.",
    "outside_outline": "The edges leave a wall in pieces: make the outside larger, or the inside smaller.",
    "inside_outline": "The inside leaves a wall in pieces: make it smaller.",
    "nose_outline": "The outer step leaves a piece loose: make it larger.",
    "tongue_length": "The tongues cut the ring apart: make them shorter, or the wall higher.",
    "tab_count": "A tab has no ring beside it: make the tabs narrower, or turn the nubs.",
    "mark_width": "The 12 o'clock mark cuts the ring apart: make it less deep.",
    "notches": "The notches leave a piece loose: move them, or make them smaller.",
    "split_width": "The split and the notches leave a piece loose: turn the split elsewhere.",
}
"""What is wrong where a step leaves a piece in more than one, and what to do, by the step's dimension."""


_ROUNDS = 5
"""Most times that proposals and what is made otherwise are told apart."""


class DesignForm(forms.Form):
    """The dimensions of a ring or a spacer; `proposals` stand wherever a field is left empty."""

    def __init__(self, data: Any, files: Any = None, *, kind: str, proposals: Mapping[str, Proposed]) -> None:
        super().__init__(data, files)
        self.kind, self.proposals, self.parameters = kind, proposals, None
        for item in fields(KINDS[kind]):
            self.fields[item.name] = field = field_of(item)
            field.widget.attrs["aria-describedby"] = f"id_{item.name}-note"
            if "outline" not in item.metadata:
                field.widget.attrs["placeholder"] = self.placeholder(item)
        self.fields["notes"] = forms.CharField(
            required=False, max_length=5000, widget=forms.Textarea(attrs={"rows": 2}), label=lazy("Notes")
        )

    def proposed(self, item):
        """The value that stands where nothing is typed; None where there is none."""
        if item.name in self.proposals:
            return self.proposals[item.name].value
        return None if item.default is MISSING else item.default

    def outline_instead(self, item):
        """The outline that is proposed in the place of this diameter; None where none is, or where it is left out."""
        edge = item.name.removesuffix("_diameter")
        proposed = self.proposals.get(f"{edge}_outline") if edge != item.name else None
        typed = [(self.data or {}).get(f"{edge}_outline{end}", "").strip().casefold() for end in ("", "_shape")]
        left_out = not {NONE, "-"}.isdisjoint(typed)
        return proposed.value if proposed and proposed.value and not left_out else None

    def placeholder(self, item):
        """What is proposed, as it would be typed on one line."""
        if self.outline_instead(item):
            return "outline"
        return text_of(item, self.proposed(item)).replace("\n", "; ")

    def clean(self):
        cleaned, values = super().clean(), {}
        for item in fields(KINDS[self.kind]):
            typed = cleaned.get(item.name)
            value = self.proposed(item) if typed in (None, "") else typed
            if "outline" in item.metadata or "words" in item.metadata:
                nothing = None if "outline" in item.metadata else ""
                values[item.name] = nothing if value == NONE else value
            elif value is not None:
                values[item.name] = [_plain(row) for row in value] if "rows" in item.metadata else value
            elif item.name in cleaned:
                note = self.proposals[item.name].note if item.name in self.proposals else "not known"
                self.add_error(
                    item.name, lazy("{what}. Measure it, or type it here.").format(what=note[:1].upper() + note[1:])
                )
        for edge in ("outside", "inside", "flange", "nose"):
            if cleaned.get(f"{edge}_outline") not in (None, "", NONE) and not cleaned.get(f"{edge}_diameter"):
                values[f"{edge}_diameter"] = 0.0
                self.errors.pop(f"{edge}_diameter", None)
        if not self.errors:
            self._build(values)
        return cleaned

    def _build(self, values):
        try:
            parameters = from_plain(self.kind, values)
        except SheetError as error:
            self.add_error(
                error.key,
                lazy("{error.value} does not work: {error.reason}. It must be {error.limit}.").format(error=error),
            )
            return
        if solid_of(parameters).is_empty():
            self.add_error("outside_diameter", lazy("The cuts leave nothing: make them fewer or smaller."))
        elif name := splits_at(parameters):
            self.add_error(
                name,
                lazy("{cause} Nothing that comes in pieces is drawn.").format(
                    cause=_SPLITS.get(name, _SPLITS["inside_outline"])
                ),
            )
        elif name := opens_at(parameters):
            self.add_error(
                name, lazy("Here two faces only just touch, and the surface would be open: change it by 0.02 mm.")
            )
        else:
            self.parameters = parameters

    @property
    def faults(self):
        """What is wrong: (field's name, words, message)."""
        return [
            (name, self.fields[name].label, message) for name, messages in self.errors.items() for message in messages
        ]


def typed_text(kind: str, parameters: Piece, propose: Propose) -> dict[str, str]:
    """What the form has to hold so that it stands for `parameters`: the fields that differ from what is proposed.

    What is proposed follows how the piece is made, which is read again from what stands there so far.
    """
    texts: dict[str, str] = {}
    for _ in range(_ROUNDS):
        before = texts
        form = DesignForm(None, kind=kind, proposals=propose(chosen_making(texts)))
        texts = {
            item.name: text_of(item, value)
            for item in fields(KINDS[kind])
            if (value := getattr(parameters, item.name)) != form.proposed(item)
        }
        if texts == before:
            break
    return texts


def chosen_making(data: Mapping[str, Any]) -> dict[str, Any]:
    """How the piece is to be made and its rim as measured, as far as typed, readable and within limits."""
    chosen = {}
    for item in (*fields(Made), *_ALSO_CHOSEN):
        try:
            value = field_of(item).clean(data.get(item.name, ""))
            if value not in (None, ""):
                if "input" in item.metadata:
                    item.metadata["input"].check(item.name, value)
                chosen[item.name] = value
        except (ValidationError, SheetError):
            continue
    return chosen


_ALSO_CHOSEN = [item for item in fields(KINDS["ring"]) if item.name == "rim_height"]
"""What is measured beside the fit check, and other suggestions follow."""


def _plain(row):
    return [getattr(row, item.name) for item in fields(row)]


class ResultForm(StaleGuard, forms.ModelForm):
    """How a revision turned out; its dimensions stay as they are."""

    class Meta:
        model = HolderDesign
        fields = ["result", "tried_on", "notes"]
        widgets = {"notes": forms.Textarea(attrs={"rows": 2})}


class PrintForm(forms.ModelForm):
    """What a printed piece measured."""

    class Meta:
        model = PrintedPiece
        fields = [
            "printer",
            "material",
            "process",
            "notes",
            *(f"{kind}_{name}" for name in PrintedPiece.PAIRS for kind in ("nominal", "measured")),
        ]

    def __init__(self, *args, **kwargs):
        super().__init__(*args, **kwargs)
        for name in PrintedPiece.PAIRS:
            for kind in ("nominal", "measured"):
                label = f"{name.capitalize()}, {'as designed' if kind == 'nominal' else 'as measured'}"
                self.fields[f"{kind}_{name}"] = SizeField(unit="mm", label=label)


class LayersForm(forms.Form):
    """The layers that a piece is printed in; cleans `made` from them."""

    layer = NumberField(label=lazy("Layer height"), unit="mm", lowest=0.02, highest=1.0, initial=Made().layer)
    first_layer = NumberField(
        label=lazy("First layer"), unit="mm", lowest=0.02, highest=1.0, initial=Made().first_layer
    )

    @property
    def layers(self) -> list[forms.BoundField]:
        """The two fields of the layers."""
        return [self["layer"], self["first_layer"]]

    @property
    def made(self) -> Made:
        """How it is made; only of a form that is valid so far."""
        return Made(layer=self.cleaned_data["layer"], first_layer=self.cleaned_data["first_layer"])


class CouponForm(LayersForm):
    """What the coupon measured, and the layers that it was printed in; what was not measured stays blank.

    `is_printed` is False while it is only asked for in such layers: then nothing of the print is known.
    """

    printer = forms.CharField(max_length=60)
    material = forms.CharField(max_length=60)
    process = forms.ChoiceField(label=lazy("Printed in"), choices=PrintedPiece.Process.choices, required=False)
    goes_in = forms.ChoiceField(
        label=lazy("Tightest hole that the upper step goes into by hand"),
        choices=[
            ("", lazy("not tried")),
            *((f"{play:.2f}", f"{play:.2f} mm") for play in PLAYS),
            ("none", lazy("none of them")),
        ],
        required=False,
    )
    field_order = ("printer", "material", "process")

    def __init__(self, *args: Any, is_printed: bool = True, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        for name in ("printer", "material"):
            self.fields[name].required = is_printed
        for name, drawn in (("outside", OUTSIDES), ("inside", INSIDES), ("height", ())):
            steps = ("lowest", "upper") if name == "inside" else ("lowest", "middle", "upper")
            for number, step in enumerate(steps):
                label = f"{name.capitalize()}, {step} step"
                label += f", drawn {drawn[number]:.2f} mm" if drawn else ""
                self.fields[f"{name}_{number}"] = SizeField(unit="mm", label=label)

    @property
    def measured(self) -> list[forms.BoundField]:
        """The fields of what was measured, printer and material first."""
        return [field for field in self if field.name not in ("layer", "first_layer")]

    def clean(self):
        cleaned = super().clean()
        if not self.errors:
            self.pieces = [piece for number in range(len(OUTSIDES)) if (piece := self._piece(cleaned, number))]
            if not self.pieces and not self.errors:
                self.add_error("outside_0", lazy("Measure at least one of the sizes."))
        return cleaned

    def _piece(self, cleaned, number):
        """The sizes of one step as a measured print; None where none was measured."""
        drawn = {"outside": OUTSIDES, "inside": INSIDES, "height": heights(self.made)}
        measured = {name: cleaned[f"{name}_{number}"] for name in drawn if cleaned.get(f"{name}_{number}") is not None}
        about = {name: cleaned[name] for name in ("printer", "material", "process")}
        piece = PrintedPiece(**about, notes=f"coupon{_goes_in(cleaned.get('goes_in'))}")
        for name, size in measured.items():
            setattr(piece, f"measured_{name}", size)
            setattr(piece, f"nominal_{name}", drawn[name][number])
        if not measured:
            return None
        try:
            piece.clean()
        except ValidationError as error:
            for field, messages in error.message_dict.items():
                self.add_error(f"{field.removeprefix('measured_')}_{number}", messages)
        return piece

    def save(self) -> list[PrintedPiece]:
        """Store each step as a measured print."""
        for piece in self.pieces:
            piece.save()
        return self.pieces


def _goes_in(play):
    """What was found with the coupon's plate, as its notes tell it."""
    if not play:
        return ""
    if play == "none":
        return f": the plug goes into no hole, not with {PLAYS[-1]:.2f} mm of play either"
    all_round = ceil(100 * float(play) / 2 - 1e-9) / 100
    return f": the plug goes in with {play} mm of play, {all_round:.2f} mm all round"


class SizeField(PlainNumberField):
    """A size of a piece: above zero and at most 100 mm, None where nothing is typed."""

    def clean(self, value):
        size = super().clean(value)
        if size is not None and not 0 < size <= 100:
            raise forms.ValidationError(
                lazy("{size} is out of range: it must be above 0, at most 100 mm.").format(size=show_dimension(size))
            )
        return size
