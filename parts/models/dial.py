"""Dials with their feet, window and applied furniture."""

from django.db import models
from django.utils.translation import gettext_lazy as lazy

from parts.dimensions.field import Dimension
from parts.dimensions.pieces import Piece
from parts.models.base import LOOKED, Measured, Optional, Part
from parts.models.case import CaseFamily, came_out_of, named_in


class Dial(Part):
    """One dial as it was measured; angles count clockwise from 12 o'clock, seen from the front."""

    class Fixing(models.TextChoices):
        """What holds the dial on its movement."""

        __empty__ = "feet, if they fit"
        FEET = "feet", lazy("its feet")
        PADS = "pads", lazy("dial pads")

    class Rests(models.TextChoices):
        """What carries the dial in its case."""

        SEAT = "seat", lazy("the case's dial seat")
        MOVEMENT = "movement", lazy("the movement or its ring")

    family = models.ForeignKey(CaseFamily, on_delete=models.PROTECT, null=True, blank=True, related_name="dials")
    diameter = Dimension("dial.diameter")
    outline = Piece("dial.outline")
    rests_on = models.CharField(lazy("rests on"), max_length=8, choices=Rests.choices, default=Rests.SEAT)
    rise = Dimension("dial.rise")
    subdials = Piece("dial.subdials")
    day_place = Piece("dial.day_window")
    thickness = Dimension("dial.thickness")
    centre_thickness = Dimension("dial.centre_thickness")
    centre_hole_diameter = Dimension("dial.centre_hole_diameter")
    minute_track_radius = Dimension("dial.minute_track_radius")
    hour_marker_inner_radius = Dimension("dial.hour_marker_inner_radius")
    feet_recorded = models.BooleanField(
        lazy("all feet are listed"),
        default=False,
        help_text=lazy("Tick once you have looked, even if there are none."),
    )
    fixing = models.CharField(lazy("held by"), max_length=4, choices=Fixing.choices, blank=True)
    pad_thickness = Dimension("dial.pad_thickness")
    out_of = came_out_of()
    has_window = models.BooleanField(lazy("date window"), null=True, blank=True, choices=LOOKED)
    window_angle = Dimension("dial.window.angle")
    window_radius = Dimension("dial.window.radius")
    window_radial = Dimension("dial.window.radial")
    window_tangential = Dimension("dial.window.tangential")
    day_window = models.BooleanField(lazy("has a day window"), default=False)

    optional = Optional("has_window", "window_", "date window")

    def __str__(self):
        return self.with_purpose(named_in(self.family, self.name) if self.family_id else self.name)


class DialFoot(Measured):
    """One of a dial's feet."""

    dial = models.ForeignKey(Dial, on_delete=models.CASCADE, related_name="feet")
    angle = Dimension("dial.feet[].angle")
    radius = Dimension("dial.feet[].radius")
    diameter = Dimension("dial.feet[].diameter")

    class Meta:
        ordering = ["pk"]
        verbose_name = "dial foot"
        verbose_name_plural = "dial feet"

    def __str__(self):
        return f"foot at {self.dimensions['angle'].shown(self) or 'an unknown angle'}"


class DialFurniture(Measured):
    """Something that stands up from the dial's face: markers, numerals, a rim."""

    dial = models.ForeignKey(Dial, on_delete=models.CASCADE, related_name="furniture")
    name = models.CharField(lazy("marker"), max_length=80, blank=True)
    inner_radius = Dimension("dial.furniture[].inner_radius")
    outer_radius = Dimension("dial.furniture[].outer_radius")
    height = Dimension("dial.furniture[].height")

    class Meta:
        ordering = ["pk"]
        verbose_name_plural = "raised markers"

    def __str__(self):
        return self.name or "furniture"
