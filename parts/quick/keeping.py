"""Making parts of what was typed in a quick check, each with a name, case and dial under a case family."""

from __future__ import annotations

from textwrap import shorten
from typing import TYPE_CHECKING, Any

from django import forms
from django.db import transaction
from django.utils.translation import gettext_lazy as lazy

from parts.dimensions.typed import IS, OUTLINES, picked_at
from parts.fit.errors import SheetError
from parts.library.kinds import KIND_OF
from parts.library.picker import PartField
from parts.models import CaseFamily, Hand, Movement
from parts.models.base import NAMELESS
from parts.pairings.answer import answer, save_with_report
from parts.quick.asked import NUMBERS, OWN_HANDS
from parts.sheets import MAKERS

if TYPE_CHECKING:
    from parts.models import Pairing

OWN_HANDS_APART = {"seconds": "seconds_hand", "subsidiary": "small_seconds_hand"}
"""The hands for the seconds that may be typed beside a set of other hands: each becomes a set of its own."""
_KIND = "movement_kind"
_LONGEST = 80


class KeepForm(forms.Form):
    """Names for the fit check and for each part that was typed, and the case family."""

    name = forms.CharField(max_length=_LONGEST, label=lazy("Fit check"), error_messages={"required": NAMELESS})
    family = PartField(CaseFamily.objects.in_drawers(), label=lazy("Case family"), empty="no family")
    new_family = forms.CharField(
        max_length=_LONGEST,
        required=False,
        label=lazy("Or a new case family"),
        help_text=lazy("Watches that share this case, so that the next one is found by it."),
    )

    def __init__(self, *args: Any, pairing: Pairing, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.pairing = pairing
        self.pieces = pieces_of(pairing)
        for key, piece in self.pieces.items():
            self.fields[key] = forms.CharField(
                max_length=_LONGEST, label=piece["label"], error_messages={"required": NAMELESS}
            )
            if key == "movement":
                self.fields[_KIND] = forms.ChoiceField(
                    choices=Movement.Kind.choices, required=False, label=lazy("Kind of movement")
                )
        if not {"case", "dial"} & self.pieces.keys():
            del self.fields["family"], self.fields["new_family"]
        elif not CaseFamily.objects.in_drawers().exists():
            del self.fields["family"]
            self.fields["new_family"].label = lazy("Case family")
        watch = self.initial.get("watch", "") or _watch_of(pairing)
        self.initial = {**proposed_names(pairing, self.pieces, watch), **self.initial}
        named = (name for key in self.pieces for name in ((key, _KIND) if key == "movement" else (key,)))
        self.order_fields(["family", "new_family", *named, "name"])
        next(iter(self.fields.values())).widget.attrs["autofocus"] = True

    def clean(self):
        cleaned = super().clean()
        if cleaned.get("family") and cleaned.get("new_family"):
            self.add_error("new_family", lazy("Choose a case family or name a new one, not both."))
        error = answer(self.pairing).error
        if error:
            self.add_error(
                None,
                lazy("These numbers contradict each other: {error.reason}. Go back and correct one.").format(
                    error=error
                ),
            )
        faults = [(path, entry["text"]) for path, entry in self.pairing.typed.items() if entry.get("fault")]
        if faults:
            path, text = faults[0]
            words = NUMBERS[path].label
            self.add_error(
                None,
                lazy("{words}: “{text}” could not be read. Go back and correct it, or clear it.").format(
                    words=words, text=text
                ),
            )
        return cleaned

    def _post_clean(self):
        """Make the parts in a transaction of its own, so that what they refuse stands on the form."""
        super()._post_clean()
        if self.errors:
            return
        try:
            with transaction.atomic():
                self.saved = self._made()
        except SheetError as error:
            self.add_error(None, lazy("{error.reason}. Go back and correct it.").format(error=error))

    def save(self) -> Pairing:
        """The fit check with its parts, which are saved by now."""
        return self.saved

    def _made(self):
        pairing, names = self.pairing, self.cleaned_data
        family = names.get("family")
        if names.get("new_family"):
            family = CaseFamily.objects.create(name=names["new_family"])
        if picked_at(pairing.typed, "hands.seconds") == "none":
            pairing.no_seconds_hand = pairing.holds("hands")
        for key, piece in self.pieces.items():
            record = MAKERS[piece["part"]](_measured(piece["sheet"]), names[key], pairing.case)
            _tell_how_taken(record, piece, pairing.typed)
            if key in OWN_HANDS_APART.values() or (key == "hands" and picked_at(pairing.typed, OWN_HANDS) == IS):
                record.is_watchs_own = True
                record.save(update_fields=["is_watchs_own"])
            if key == "movement" and names[_KIND]:
                record.kind = names[_KIND]
                record.save(update_fields=["kind"])
            if key in ("case", "dial") and family:
                record.family = family
                record.save(update_fields=["family"])
            setattr(pairing, piece["field"], record)
        pairing.name, pairing.draft_key, pairing.typed = names["name"], None, {}
        save_with_report(pairing=pairing, answered=answer(pairing))
        return pairing


def pieces_of(pairing: Pairing) -> dict[str, dict[str, Any]]:
    """What becomes a part, by the name of its form field: its kind of part, sheet, field of the pairing and label."""
    pieces = {}
    typed = pairing.typed_parts
    hands = typed.pop("hands", {})
    for name, sheet in typed.items():
        pieces[name] = {"part": name, "sheet": sheet, "field": name, "label": KIND_OF[name].singular.capitalize()}
    own = [role for role in OWN_HANDS_APART if hands.get(role) and picked_at(pairing.typed, f"hands.{role}") == IS]
    apart = {role: {role: hands.pop(role)} for role in own}
    if any(hands.values()):
        pieces["hands"] = {"part": "hands", "sheet": hands, "field": "hands", "label": "Hand set"}
    for role, sheet in apart.items():
        key = OWN_HANDS_APART[role]
        label = key.replace("_", " ").capitalize()
        pieces[key] = {"part": "hands", "sheet": sheet, "field": f"{key}_from", "label": label}
    return pieces


def proposed_names(pairing: Pairing, pieces: dict[str, dict[str, Any]], watch: str) -> dict[str, str]:
    """A name to begin with for each piece and for the fit check, of the watch and of the size that a piece goes by."""
    own_dial = picked_at(pairing.typed, "dial.own_case") == "yes"
    own_hands = picked_at(pairing.typed, OWN_HANDS) == IS
    kinds = {
        "case": "as it came",
        "dial": "own dial" if own_dial else "dial",
        "movement": "Movement",
        "hands": "own hands" if own_hands else "new hands",
        "seconds_hand": "own seconds hand",
        "small_seconds_hand": "own small seconds hand",
    }
    names = {key: f"{kinds[key]} {_size(piece)}".strip() for key, piece in pieces.items()}
    names |= {key: _of_watch(watch, names[key]) for key in ("hands", *OWN_HANDS_APART.values()) if key in names}
    movement = pairing.movement or names.get("movement")
    whole = _fitted(watch, f" with {movement}") if watch and movement else ""
    return names | {"name": pairing.name or whole}


def _watch_of(pairing):
    """The case family of what was picked from the library, in words; empty where there is none."""
    families = (part.family for part in (pairing.case, pairing.dial) if part and part.family)
    return next((str(family) for family in families), "")


def _of_watch(watch, kind):
    return _fitted(watch, f", {kind}") if watch else kind.capitalize()


def _fitted(watch, rest):
    """A name that begins with the watch, in as many of its words as leave room for the rest."""
    return f"{shorten(watch, max(1, _LONGEST - len(rest)), placeholder='…')}{rest}"[:_LONGEST]


_GOES_BY = {"case": "bore_diameter", "dial": "diameter", "movement": "overall_diameter"}


def _size(piece):
    """The number that a part is told from others by, with its unit: a case's bore, the holes of hands."""
    sheet = piece["sheet"]
    if piece["part"] == "hands":
        hands = [hand for role, hand in sheet.items() if role != "subsidiary"]
        hands += sheet.get("subsidiary", {}).values()
        holes = [_figure((hand or {}).get("hole_diameter")) for hand in hands]
        return "/".join(filter(None, holes)) + (" mm" if any(holes) else "")
    name = _GOES_BY[piece["part"]]
    outline = sheet.get(OUTLINES[f"{piece['part']}.{name}"].partition(".")[2], {})
    figures = [
        figure for number in (sheet.get(name), *map(outline.get, ("width", "height"))) if (figure := _figure(number))
    ]
    return f"{' × '.join(figures)} mm" if figures else ""


def _figure(number):
    """A number of a sheet to two decimals; empty for none and for a bound."""
    value = number[0] if isinstance(number, list) else number
    return f"{value:.2f}" if isinstance(value, (int, float)) else ""


def _measured(sheet):
    """A part's sheet without the outlines of which nothing but the shape is known."""
    return {key: value for key, value in sheet.items() if not isinstance(value, dict) or value.keys() != {"shape"}}


def _tell_how_taken(record, piece, typed):
    """Put down how each number was taken."""
    rows = [(record, "")]
    if piece["part"] == "hands":
        rows = [(hand, f"hands.{hand.role}.") for hand in Hand.objects.filter(hand_set=record)]
    if piece["part"] == "dial":
        rows += [(foot, f"dial.feet[{i}].") for i, foot in enumerate(record.feet.all())]
        rows += [(item, f"dial.furniture[{i}].") for i, item in enumerate(record.furniture.all())]
    for row, prefix in rows:
        for name, dimension in row.dimensions.items():
            entry = typed.get(f"{prefix}{dimension.key}" if prefix else dimension.path, {})
            if entry.get("taken"):
                row.taken = row.taken | {name: entry["taken"]}
        row.save(update_fields=["taken"])
