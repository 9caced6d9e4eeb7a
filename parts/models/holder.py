"""Holder rings and spacers by revision, and what printed pieces measured."""

import secrets

from django.core.exceptions import ValidationError
from django.db import models
from django.utils.translation import gettext_lazy as lazy

from parts.dimensions.pieces import outline_text
from parts.models.base import RecordQuerySet


class Kept(models.Model):
    """Something that is put away instead of deleted."""

    archived = models.BooleanField(default=False, editable=False)
    created = models.DateTimeField(auto_now_add=True)
    updated = models.DateTimeField(auto_now=True)

    objects = RecordQuerySet.as_manager()

    class Meta:
        abstract = True


class HolderDesign(Kept):
    """One revision of a piece for a case family and a movement; its dimensions never change once it is kept.

    `parameters` maps the names of the geometry's dimensions to mm, degrees, words or rows.
    """

    class Kind(models.TextChoices):
        """What the piece is."""

        RING = "ring", lazy("holder ring")
        SPACER = "spacer", lazy("spacer")

    class Result(models.TextChoices):
        """How it turned out on the watch."""

        UNTRIED = "untried", lazy("not tried")
        FITS = "fits", lazy("fits")
        TIGHT = "tight", lazy("too tight")
        LOOSE = "loose", lazy("too loose")
        REPRINT = "reprint", lazy("reprint")

    family = models.ForeignKey("parts.CaseFamily", on_delete=models.PROTECT, related_name="holder_designs")
    movement = models.ForeignKey("parts.Movement", on_delete=models.PROTECT, related_name="holder_designs")
    pairing = models.ForeignKey(
        "parts.Pairing", on_delete=models.SET_NULL, null=True, blank=True, related_name="holder_designs"
    )
    kind = models.CharField(max_length=6, choices=Kind.choices)
    revision = models.PositiveIntegerField()
    parameters = models.JSONField()
    result = models.CharField(max_length=7, choices=Result.choices, default=Result.UNTRIED)
    tried_on = models.CharField(
        lazy("tried on"), max_length=200, blank=True, help_text=lazy("Which watch, which job, which print.")
    )
    notes = models.TextField(blank=True, max_length=5000)

    class Meta:
        ordering = ["family__name", "movement__name", "kind", "-revision"]
        constraints = [
            models.UniqueConstraint(
                fields=["family", "movement", "kind", "revision"], name="one_design_a_revision_of_its_kind"
            )
        ]

    def __str__(self):
        return (
            f"{self.get_kind_display().capitalize()} for {self.family} with {self.movement}, revision {self.revision}"
        )

    @property
    def process(self):
        """How it is made: filament, resin or turned."""
        return self.parameters.get("process", "")

    @property
    def outside(self):
        """Its outside in words: the diameter, or the outline in its place."""
        return self._edge("outside")

    @property
    def inside(self):
        """The same of its inside."""
        return self._edge("inside")

    def _edge(self, name):
        outline = self.parameters.get(f"{name}_outline")
        return outline_text(outline) if outline else f"{self.parameters.get(f'{name}_diameter', 0.0):.2f} mm"


class PrintedPiece(Kept):
    """What a printed piece should have measured and what it did measure, mm; null where nobody measured."""

    PAIRS = ("outside", "inside", "height")

    class Process(models.TextChoices):
        """How it was printed, as a holder's design has it."""

        __empty__ = "not given"
        FILAMENT = "filament", lazy("filament")
        RESIN = "resin", lazy("resin")

    printer = models.CharField(max_length=60)
    material = models.CharField(max_length=60)
    process = models.CharField(lazy("printed in"), max_length=8, choices=Process.choices, blank=True)
    design = models.ForeignKey(HolderDesign, on_delete=models.PROTECT, null=True, blank=True, related_name="prints")
    nominal_outside = models.FloatField(null=True, blank=True)
    measured_outside = models.FloatField(null=True, blank=True)
    nominal_inside = models.FloatField(null=True, blank=True)
    measured_inside = models.FloatField(null=True, blank=True)
    nominal_height = models.FloatField(null=True, blank=True)
    measured_height = models.FloatField(null=True, blank=True)
    notes = models.CharField(max_length=200, blank=True)

    class Meta:
        ordering = ["printer", "material", "-created", "-pk"]

    def __str__(self):
        return f"{self.printer}, {self.material}, {self.created:%-d %b %Y}"

    def clean(self):
        faults, complete = {}, 0
        for name in self.PAIRS:
            nominal, measured = getattr(self, f"nominal_{name}"), getattr(self, f"measured_{name}")
            if (nominal is None) != (measured is None):
                empty = "nominal" if nominal is None else "measured"
                faults[f"{empty}_{name}"] = f"Enter the {empty} {name} too, or leave both blank."
            complete += nominal is not None and measured is not None
            if nominal and measured and abs(measured - nominal) > max(1.0, 0.1 * nominal):
                faults[f"measured_{name}"] = f"{measured:g} is more than a tenth off {nominal:g}: is it the same part?"
        if not complete and not faults:
            faults["measured_outside"] = "Enter at least one size, as designed and as measured."
        if faults:
            raise ValidationError(faults)


def _photo_name(photo, _):
    return f"holders/{photo.design_id}/{secrets.token_hex(12)}.jpg"


class HolderPhoto(models.Model):
    """A photo of a printed or turned piece of a design, with a small picture beside it."""

    design = models.ForeignKey(HolderDesign, on_delete=models.CASCADE, related_name="photos")
    file = models.ImageField(upload_to=_photo_name)
    thumbnail = models.ImageField(upload_to=_photo_name)
    taken = models.DateTimeField(auto_now_add=True)
    archived = models.BooleanField(default=False, editable=False)

    class Meta:
        ordering = ["pk"]

    def __str__(self):
        return f"photo {self.pk} of {self.design}"
