"""Cases and the families that share their dimensions."""

from django.db import models
from django.utils.translation import gettext_lazy as lazy

from parts.dimensions.field import Dimension
from parts.dimensions.pieces import Piece
from parts.models.base import Part, Record


class CaseFamily(Record):
    """Watches that share a case and its dimensions."""

    class Meta(Record.Meta):
        verbose_name_plural = "case families"


def named_in(family, name):
    """A part's name behind its family's, which is not said twice."""
    return name if name.casefold().startswith(family.name.casefold()) else f"{family} {name}"


class Case(Part):
    """One case as it was measured, dial seat to case back."""

    class Loading(models.TextChoices):
        """From which side the movement goes in."""

        BACK = "back", lazy("from the back")
        FRONT = "front", lazy("from the front")

    class Ring(models.TextChoices):
        """What lies on the dial's edge in a case loaded from the front."""

        __empty__ = "not given"
        REHAUT = "rehaut", lazy("rehaut")
        TENSION = "tension", lazy("tension ring")

    class CrystalMaterial(models.TextChoices):
        """What the crystal is made of."""

        __empty__ = "not given"
        ACRYLIC = "acrylic", lazy("acrylic")
        MINERAL = "mineral", lazy("mineral glass")
        SAPPHIRE = "sapphire", lazy("sapphire")

    class BackMaterial(models.TextChoices):
        """What the case back is made of; a display back is a crystal."""

        __empty__ = "not given"
        STEEL = "steel", lazy("steel")
        TITANIUM = "titanium", lazy("titanium")
        BRASS = "brass", lazy("brass")
        ACRYLIC = "acrylic", lazy("acrylic")
        MINERAL = "mineral", lazy("mineral glass")
        SAPPHIRE = "sapphire", lazy("sapphire")

    family = models.ForeignKey(CaseFamily, on_delete=models.PROTECT, null=True, blank=True, related_name="cases")
    loading = models.CharField(
        lazy("loaded"),
        max_length=5,
        choices=Loading.choices,
        default=Loading.BACK,
        help_text=lazy("From which side the movement goes in. From the front, heights count from the case floor."),
    )
    bore_diameter = Dimension("case.bore_diameter")
    bore_outline = Piece("case.bore_outline")
    seat_outline = Piece("case.seat_outline")
    opening_outline = Piece("case.opening_outline")
    rim = Piece("case.rim")
    ring = models.CharField(lazy("held from above by"), max_length=7, choices=Ring.choices, blank=True)
    front_opening_diameter = Dimension("case.front_opening_diameter")
    front_opening_outline = Piece("case.front_opening_outline")
    floor_stem = Dimension("case.floor_stem")
    floor_ring = Dimension("case.floor_ring")
    floor_crystal_centre = Dimension("case.floor_crystal_centre")
    floor_crystal_edge = Dimension("case.floor_crystal_edge")
    seat_wall = Dimension("case.seat_wall")
    dial_seat_diameter = Dimension("case.dial_seat_diameter")
    dial_opening_diameter = Dimension("case.dial_opening_diameter")
    stem_axis_depth = Dimension("case.stem_axis_depth")
    back_depth = Dimension("case.back_depth")
    crystal_gap_centre = Dimension("case.crystal_gap_centre")
    crystal_gap_edge = Dimension("case.crystal_gap_edge")
    crystal_edge_radius = Dimension("case.crystal_edge_radius")
    stem_angle = Dimension("case.stem_angle")
    crown_seat_radius = Dimension("case.crown_seat_radius")
    tube_bore_diameter = Dimension("case.tube_bore_diameter")
    tube_outer_diameter = Dimension("case.tube_outer_diameter")

    stated_pressure = Dimension("case.stated_pressure")
    crystal_material = models.CharField(max_length=8, choices=CrystalMaterial.choices, blank=True)
    crystal_thickness = Dimension("case.crystal_thickness")
    crystal_span = Dimension("case.crystal_span")
    back_material = models.CharField(max_length=8, choices=BackMaterial.choices, blank=True)
    back_thickness = Dimension("case.back_thickness")
    back_span = Dimension("case.back_span")
    gasket_section = Dimension("case.gasket_section")
    gasket_diameter = Dimension("case.gasket_diameter")
    groove_diameter = Dimension("case.groove_diameter")
    groove_depth = Dimension("case.groove_depth")
    groove_width = Dimension("case.groove_width")

    MATERIALS = ("crystal_material", "back_material")
    _ONE_SIDE = {
        Loading.BACK: ("stem_axis_depth", "back_depth", "crystal_gap_centre", "crystal_gap_edge", "seat_wall"),
        Loading.FRONT: (
            *("floor_stem", "floor_ring", "floor_crystal_centre", "floor_crystal_edge"),
            "front_opening_diameter",
        ),
    }
    """What only a case that is loaded from that side has."""
    _FOR_ADVICE = (
        *("stated_pressure", "crystal_thickness", "crystal_span", "back_thickness", "back_span"),
        *("gasket_section", "gasket_diameter", "groove_diameter", "groove_depth", "groove_width"),
    )
    """What no check asks for: it counts where it was measured."""

    @property
    def applying(self):
        """The dimensions that a case of this construction has."""
        others = {name for side, names in self._ONE_SIDE.items() if side != self.loading for name in names}
        others |= {name for name in self._FOR_ADVICE if getattr(self, name) is None}
        return {name: dimension for name, dimension in self.dimensions.items() if name not in others}

    def __str__(self):
        return self.with_purpose(named_in(self.family, self.name) if self.family_id else self.name)


def came_out_of():
    """The field of a part that says out of which case it came: with that case it needs no numbers."""
    return models.ForeignKey(
        Case, on_delete=models.SET_NULL, null=True, blank=True, related_name="+", verbose_name=lazy("came out of")
    )
