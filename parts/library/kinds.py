"""The kinds of parts: what each is called, how it is entered and listed. Every page of the library goes by this."""

from dataclasses import dataclass
from typing import Any

from parts import models
from parts.library import forms, groups


@dataclass(frozen=True, slots=True)
class Rows:
    """A list of rows that a part has: `name` is the relation, `flag` says whether the list is complete."""

    name: str
    model: type[Any]
    form: type[Any]
    singular: str
    plural: str
    flag: str = ""
    room: int = 2


@dataclass(frozen=True, slots=True)
class Kind:
    """One kind of part. `columns` are the dimensions that lists show; `in_lignes` also get a ligne label.

    `part` is what the pairing sheet calls it, empty for what is no part of a watch by itself; `changes` tells whether a
    conversion may bring one in, while case and dial stay.
    """

    slug: str
    model: type[Any]
    form: type[Any]
    groups: tuple
    singular: str
    plural: str
    about: str
    outline: str = ""
    columns: tuple = ()
    in_lignes: tuple = ()
    rows: tuple = ()
    part: str = ""
    changes: bool = False
    has_hands: bool = False
    has_family: bool = False

    @property
    def outlines(self):
        """The template with the outlines of this kind's sketches."""
        return f"parts/library/outlines/{self.outline}.html"

    @property
    def listed(self):
        """The dimensions that lists show."""
        return [self.model.dimensions[name] for name in self.columns]

    @property
    def stocked(self):
        return issubclass(self.model, models.base.Part)


FEET = Rows("feet", models.DialFoot, forms.FootForm, "foot", "feet", "feet_recorded")
FURNITURE = Rows("furniture", models.DialFurniture, forms.FurnitureForm, "raised marker", "raised markers", room=1)
FOOT_HOLES = Rows("foot_holes", models.FootHole, forms.FootHoleForm, "foot hole", "foot holes", "foot_holes_recorded")

KINDS = {
    kind.slug: kind
    for kind in (
        Kind(
            "case-families",
            models.CaseFamily,
            forms.CaseFamilyForm,
            groups.FAMILY,
            "case family",
            "case families",
            "Watches that share a case and its dimensions.",
        ),
        Kind(
            "cases",
            models.Case,
            forms.CaseForm,
            groups.CASE,
            "case",
            "cases",
            "From dial seat to case back, with crystal and tube.",
            outline="case",
            part="case",
            columns=("bore_diameter", "dial_seat_diameter", "stem_axis_depth", "back_depth"),
            in_lignes=("bore_diameter",),
            has_family=True,
        ),
        Kind(
            "dials",
            models.Dial,
            forms.DialForm,
            groups.DIAL,
            "dial",
            "dials",
            "Plate, feet, date window and raised markers.",
            outline="dial",
            part="dial",
            columns=("diameter", "thickness", "centre_hole_diameter"),
            in_lignes=("diameter",),
            rows=(FEET, FURNITURE),
            has_family=True,
        ),
        Kind(
            "movements",
            models.Movement,
            forms.MovementForm,
            groups.MOVEMENT,
            "movement",
            "movements",
            "Outline, posts, foot holes, date disc and cell.",
            outline="movement",
            part="movement",
            changes=True,
            columns=("fit_diameter", "stem_axis_depth", "back_height", "stem_thread"),
            in_lignes=("fit_diameter", "overall_diameter"),
            rows=(FOOT_HOLES,),
        ),
        Kind(
            "hand-sets",
            models.HandSet,
            forms.HandSetForm,
            groups.HAND_SET,
            "hand set",
            "hand sets",
            "Hour and minute hand, with or without a seconds hand.",
            outline="hand",
            part="hands",
            changes=True,
            has_hands=True,
        ),
        Kind(
            "stems",
            models.Stem,
            forms.StemForm,
            groups.STEM,
            "stem",
            "stems",
            "Thread and length.",
            outline="stem",
            part="stem",
            changes=True,
            columns=("thread", "length"),
        ),
        Kind(
            "crowns",
            models.Crown,
            forms.CrownForm,
            groups.CROWN,
            "crown",
            "crowns",
            "Thread, bore and how it closes.",
            outline="crown",
            part="crown",
            changes=True,
            columns=("thread", "bore_depth", "tube_bore_diameter"),
        ),
    )
}

KIND_OF = {kind.part: kind for kind in KINDS.values() if kind.part}
"""The kinds by what a pairing sheet calls their parts."""
BROUGHT_IN = {part: kind.slug for part, kind in KIND_OF.items() if kind.changes}
"""The parts that a conversion may bring in (looked for, bought, taken from stock), with the slugs of their kinds."""
