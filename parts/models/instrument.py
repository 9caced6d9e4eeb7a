"""The instruments of the shop, and how far off each may be."""

from django.core.validators import MaxValueValidator, MinValueValidator
from django.db import models
from django.utils.translation import gettext_lazy as lazy

from parts.dimensions.text import show_dimension


class Instrument(models.Model):
    """Something to measure with. `limit_mm` is its limit of error at the bench, not that of its maker's sheet."""

    class Kind(models.TextChoices):
        """What it is, as the cards of the dimensions speak of it."""

        CALLIPER = "calliper", lazy("calliper")
        MICROMETER = "micrometer", lazy("micrometer")
        DEPTH = "depth", lazy("depth gauge")
        PINS = "pins", lazy("pins")
        INDICATOR = "indicator", lazy("indicator")
        DISCS = "discs", lazy("step discs")
        STRIPS = "strips", lazy("feeler strips")
        LOUPE = "loupe", lazy("loupe")
        MICROSCOPE = "microscope", lazy("microscope")
        PICTURE = "picture", lazy("picture")
        SHEET = "sheet", lazy("maker's sheet")
        EYE = "eye", lazy("by eye")
        OTHER = "other", lazy("something else")

    name = models.CharField(max_length=40, error_messages={"blank": "Give it a name."})
    kind = models.CharField(lazy("kind of tool"), max_length=10, choices=Kind.choices, default=Kind.OTHER)
    limit_mm = models.FloatField(
        lazy("limit of error"),
        validators=[MinValueValidator(0.0001), MaxValueValidator(5.0)],
        help_text=lazy("How far off a reading at the bench may be, ±."),
    )
    step_mm = models.FloatField(
        lazy("resolution"),
        default=0.0,
        validators=[MinValueValidator(0.0), MaxValueValidator(1.0)],
        help_text=lazy("The smallest step that it shows; 0 for none."),
    )
    limit_deg = models.FloatField(
        lazy("limit of error of an angle"),
        null=True,
        blank=True,
        validators=[MinValueValidator(0.01), MaxValueValidator(45.0)],
        help_text=lazy("±; blank if it takes no angles."),
    )
    position = models.PositiveSmallIntegerField(lazy("place in the list"), default=100)
    archived = models.BooleanField(default=False, editable=False)

    class Meta:
        ordering = ["position", "pk"]

    def __str__(self):
        return self.name

    @property
    def limit_shown(self):
        """Its limit of error with its unit: 0.03 mm."""
        return show_dimension(self.limit_mm)
