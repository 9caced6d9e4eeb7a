"""What every record of the library has."""

from __future__ import annotations

from decimal import Decimal
from typing import TYPE_CHECKING, NamedTuple

from django.core.exceptions import ValidationError
from django.core.validators import MinValueValidator
from django.db import models
from django.utils.translation import gettext_lazy as lazy

if TYPE_CHECKING:
    from parts.dimensions.field import Dimension
    from parts.dimensions.pieces import Piece

NAMELESS = "Give it a name."


LOOKED = ((None, "not looked at"), (True, "there is one"), (False, "there is none"))
"""What is known of a thing that not every part has."""


class Optional(NamedTuple):
    """Something that not every part has: the flag that says so, its dimensions' prefix, and its name."""

    flag: str
    prefix: str
    noun: str


class Measured(models.Model):
    """Something with dimensions; refuses those outside their limits when it is cleaned."""

    dimensions: dict[str, Dimension] = {}
    pieces: dict[str, Piece] = {}
    optional: Optional | None = None

    class Meta:
        abstract = True

    def clean(self):
        faults = {}
        for name, dimension in self.dimensions.items():
            try:
                dimension.check(self)
            except ValidationError as error:
                faults[name] = error
        for name, piece in self.pieces.items():
            try:
                piece.check(self)
            except ValidationError as error:
                faults[name] = error
        idle = [
            dimension
            for name, dimension in self.dimensions.items()
            if name not in self.applying and dimension.text(self)
        ]
        if idle and self.optional:
            label, noun = idle[0].label, self.optional.noun
            faults[self.optional.flag] = ValidationError(
                lazy("You entered the {label} of a {noun}. Say that there is one, or clear its dimensions.").format(
                    label=label, noun=noun
                )
            )
        if faults:
            raise ValidationError(faults)

    @property
    def applying(self):
        """The dimensions that this one can have: without those of a thing that it lacks."""
        if self.optional is None or getattr(self, self.optional.flag):
            return self.dimensions
        return {
            name: dimension for name, dimension in self.dimensions.items() if not name.startswith(self.optional.prefix)
        }


class RecordQuerySet(models.QuerySet):
    def in_drawers(self):
        """Without those that are archived."""
        return self.filter(archived=False)


class Record(Measured):
    """A named record; it is archived instead of deleted."""

    name = models.CharField(max_length=80, error_messages={"blank": NAMELESS})
    notes = models.TextField(blank=True, max_length=5000)
    archived = models.BooleanField(default=False, editable=False)
    created = models.DateTimeField(auto_now_add=True)
    updated = models.DateTimeField(auto_now=True)

    objects = RecordQuerySet.as_manager()

    class Meta:
        abstract = True
        ordering = ["name", "pk"]

    def __str__(self):
        return self.name


EXAMPLE = "example"
"""What an example is made for: its name is told with this behind."""


class Own(models.Model):
    """A record that may be made for one thing alone, such as a job's own copy of a part.

    `made_for` is what it is for, as people call it (a job's number), `copied_from` what it is a copy of, never itself a
    copy; both are empty for a record that anything may use. `name` says neither: it is told with `made_for` behind.
    """

    copied_from = models.ForeignKey(
        "self", on_delete=models.SET_NULL, null=True, blank=True, editable=False, related_name="own_copies"
    )
    made_for = models.CharField(max_length=20, blank=True, editable=False)

    class Meta:
        abstract = True

    def __str__(self):
        return self.with_purpose(self.name)

    def with_purpose(self, name):
        """A name of it with what it is made for."""
        return f"{name}, {self.made_for}" if self.made_for else name

    @property
    def is_of_a_job(self):
        """Whether it is made for one job alone."""
        return self.made_for not in ("", EXAMPLE)

    @property
    def original(self):
        """What it is a copy of; itself where it is none, or where that is not known."""
        return self.copied_from or self


class Part(Own, Record):
    """A part that may lie in stock; `in_stock` is null where nobody counted."""

    in_stock = models.PositiveIntegerField(
        null=True, blank=True, help_text=lazy("How many are in stock; blank if not counted.")
    )
    supplier = models.CharField(max_length=120, blank=True)
    supplier_number = models.CharField(
        lazy("supplier's number"), max_length=60, blank=True, help_text=lazy("As the supplier lists it.")
    )
    cost = models.DecimalField(
        max_digits=9,
        decimal_places=2,
        null=True,
        blank=True,
        validators=[MinValueValidator(Decimal(0))],
        help_text=lazy("What you pay for one, in your currency. Only the owner sees it."),
    )

    class Meta(Record.Meta):
        abstract = True
