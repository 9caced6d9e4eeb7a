"""Cases and the families that share their dimensions."""

from django.db import models

from parts.dimensions.field import Dimension
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

        BACK = "back", "from the back"
        FRONT = "front", "from the front"

    family = models.ForeignKey(CaseFamily, on_delete=models.PROTECT, null=True, blank=True, related_name="cases")
    loading = models.CharField(
        "loaded",
        max_length=5,
        choices=Loading.choices,
        default=Loading.BACK,
        help_text="The fit check covers cases loaded from the back, with a dial seat inside.",
    )
    bore_diameter = Dimension("case.bore_diameter")
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

    def __str__(self):
        return self.with_purpose(named_in(self.family, self.name) if self.family_id else self.name)


def came_out_of():
    """The field of a part that says out of which case it came: with that case it needs no numbers."""
    return models.ForeignKey(
        Case, on_delete=models.SET_NULL, null=True, blank=True, related_name="+", verbose_name="came out of"
    )
