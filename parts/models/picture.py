"""Pictures that parts are measured from, and the printed mats that they lie on."""

import secrets

from django.db import models
from django.db.models import Q
from django.utils.translation import gettext_lazy as lazy

from parts.models.base import RecordQuerySet
from parts.picture.mat import MOST_PRINTS


class MatPrint(models.Model):
    """One print of a measuring mat: `across` and `down` are its control bars in mm, null while nobody measured them."""

    class Field(models.IntegerChoices):
        """Side of the empty field, mm."""

        SMALL = 35, lazy("35 mm, for hands and small movements")
        USUAL = 50, lazy("50 mm, for most dials and movements")
        LARGE = 75, lazy("75 mm, for whole cases")

    class Paper(models.TextChoices):
        A4 = "A4", lazy("A4")
        LETTER = "Letter", lazy("Letter")

    field = models.PositiveSmallIntegerField(lazy("field"), choices=Field.choices, default=Field.USUAL)
    paper = models.CharField(lazy("paper"), max_length=6, choices=Paper.choices, default=Paper.A4)
    across = models.FloatField(lazy("bar across"), null=True, blank=True)
    down = models.FloatField(lazy("bar down"), null=True, blank=True)
    plus_minus = models.FloatField(lazy("± of the calliper"), default=0.03)
    created = models.DateTimeField(auto_now_add=True)
    archived = models.BooleanField(default=False, editable=False)

    objects = RecordQuerySet.as_manager()

    class Meta:
        ordering = ["-pk"]

    def __str__(self):
        return f"print {self.number}, field {self.field} mm, {self.created:%-d %b %Y}"

    @property
    def number(self):
        """What its coded marks say."""
        return self.pk % MOST_PRINTS


class Scanner(models.Model):
    """A flat scanner whose scale was read off a scan of a mat.

    `across` and `down` are true pixels per mm over those that its files state; `plus_minus` is relative, of each.
    """

    name = models.CharField(lazy("name"), max_length=60)
    across = models.FloatField(editable=False)
    down = models.FloatField(editable=False)
    plus_minus = models.FloatField(editable=False)
    created = models.DateTimeField(auto_now_add=True)
    archived = models.BooleanField(default=False, editable=False)

    objects = RecordQuerySet.as_manager()

    class Meta:
        ordering = ["-pk"]

    def __str__(self):
        return self.name


def _file_name(_picture, _name):
    return f"pictures/{secrets.token_hex(16)}.jpg"


class PartPicture(models.Model):
    """A picture of a part on a mat or a scan of it, what the program made of it, and what was picked on it.

    `subject` is what it shows (`parts.picture.subjects`), `height` that of the measured face over the mat, mm; `focal`
    the focal length in pixels that the camera's file told. A scan has its `scanner` and `per_mm`, its pixels per mm.
    `plane` is the fitted view, empty while it is not read;
    `fault` says why it cannot be trusted. `picks` is a list of what was picked, in order, each with its key.
    `outline` has the corners of a hand's outline, mm on the face, empty where none was seen.
    """

    OF = ("case", "dial", "movement", "hands")

    case = models.ForeignKey("parts.Case", on_delete=models.CASCADE, null=True, related_name="pictures")
    dial = models.ForeignKey("parts.Dial", on_delete=models.CASCADE, null=True, related_name="pictures")
    movement = models.ForeignKey("parts.Movement", on_delete=models.CASCADE, null=True, related_name="pictures")
    hands = models.ForeignKey("parts.HandSet", on_delete=models.CASCADE, null=True, related_name="pictures")
    subject = models.CharField(max_length=20)
    file = models.ImageField(upload_to=_file_name)
    flat = models.ImageField(upload_to=_file_name, blank=True)
    height = models.FloatField(default=0.0)
    height_pm = models.FloatField(default=0.1)
    focal = models.FloatField(null=True, blank=True)
    scanner = models.ForeignKey(Scanner, on_delete=models.PROTECT, null=True, blank=True, related_name="pictures")
    per_mm = models.FloatField(null=True, blank=True)
    plane = models.JSONField(default=dict, blank=True)
    fault = models.CharField(max_length=400, blank=True)
    picks = models.JSONField(default=list, blank=True)
    outline = models.JSONField(default=list, blank=True)
    created = models.DateTimeField(auto_now_add=True)
    archived = models.BooleanField(default=False, editable=False)

    objects = RecordQuerySet.as_manager()

    class Meta:
        ordering = ["-pk"]
        constraints = [
            models.CheckConstraint(
                condition=Q(case__isnull=False, dial__isnull=True, movement__isnull=True, hands__isnull=True)
                | Q(case__isnull=True, dial__isnull=False, movement__isnull=True, hands__isnull=True)
                | Q(case__isnull=True, dial__isnull=True, movement__isnull=False, hands__isnull=True)
                | Q(case__isnull=True, dial__isnull=True, movement__isnull=True, hands__isnull=False),
                name="a_picture_is_of_one_part",
            )
        ]

    def __str__(self):
        return f"picture {self.pk}"

    @property
    def of(self):
        """What the sheet calls the part that it shows."""
        return next(name for name in self.OF if getattr(self, f"{name}_id"))

    @property
    def part(self):
        """The part that it shows."""
        return getattr(self, self.of)
