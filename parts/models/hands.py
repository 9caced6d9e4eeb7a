"""Hand sets."""

from django.db import models
from django.utils.translation import gettext_lazy as lazy

from parts.dimensions.field import Dimension, Source
from parts.dimensions.pieces import Piece
from parts.models.base import Measured, Part


class HandSet(Part):
    """Hour and minute hand that belong together, with a seconds hand or without; or a hand of one customer's watch."""

    class Shape(models.TextChoices):
        """How the blades are shaped, for the look of the dial."""

        __empty__ = "not said"
        BATON = "baton", lazy("baton")
        LEAF = "leaf", lazy("leaf")
        DAUPHINE = "dauphine", lazy("dauphine")
        SWORD = "sword", lazy("sword")
        PENCIL = "pencil", lazy("pencil")
        CATHEDRAL = "cathedral", lazy("cathedral")

    class Colour(models.TextChoices):
        """Their colour, for the look of the dial."""

        __empty__ = "not said"
        STEEL = "steel", lazy("steel")
        GILT = "gilt", lazy("gilt")
        BLUE = "blue", lazy("blue")
        BLACK = "dark", lazy("black")
        WHITE = "pale", lazy("white")

    subsidiary = Piece("hands.subsidiary")
    shape = models.CharField(
        lazy("shape"),
        max_length=10,
        blank=True,
        choices=Shape.choices,
        help_text=lazy("For the dial as it will be. Left open: as in the hands’ own picture, else a baton."),
    )
    colour = models.CharField(lazy("colour"), max_length=10, blank=True, choices=Colour.choices)
    lume = models.CharField(
        lazy("luminous colour"),
        max_length=40,
        blank=True,
        help_text=lazy("As it looks. Old luminous paint without a mark counts as radium."),
    )
    is_watchs_own = models.BooleanField(default=False, editable=False)


class Hand(Measured):
    """One hand of a set; lengths count from the middle of its hole."""

    class Role(models.TextChoices):
        HOUR = "hour", lazy("hour hand")
        MINUTE = "minute", lazy("minute hand")
        SECONDS = "seconds", lazy("seconds hand")

    hand_set = models.ForeignKey(HandSet, on_delete=models.CASCADE, related_name="hands")
    role = models.CharField(max_length=7, choices=Role.choices)
    hole_diameter = Dimension("hands.hour.hole_diameter")
    length = Dimension("hands.hour.length")
    tail = Dimension("hands.hour.tail")
    thickness = Dimension("hands.hour.thickness")
    hub_height = Dimension("hands.hour.hub_height")
    hub_diameter = Dimension("hands.hour.hub_diameter")
    boss_diameter = Dimension("hands.hour.boss_diameter")
    tip_drop = Dimension("hands.hour.tip_drop")
    blade_step = Dimension("hands.hour.blade_step")
    cap_thickness = Dimension("hands.hour.cap_thickness")
    made_for = Dimension("hands.hour.made_for", Source.SHEET)
    mass = Dimension("hands.hour.mass")
    centre_of_mass = Dimension("hands.hour.centre_of_mass")

    class Meta:
        ordering = ["pk"]
        constraints = [
            models.UniqueConstraint(fields=["hand_set", "role"], name="one_hand_of_each_role"),
        ]

    def __str__(self):
        return self.get_role_display()
