"""What every record of the library has."""

from django.core.exceptions import ValidationError
from django.db import models


class RecordQuerySet(models.QuerySet):
    def in_drawers(self):
        """Without those that were put away."""
        return self.filter(archived=False)


class Record(models.Model):
    """A named record; it is put away instead of deleted."""

    name = models.CharField(max_length=80)
    notes = models.TextField(blank=True, max_length=5000)
    archived = models.BooleanField("put away", default=False, editable=False)
    created = models.DateTimeField(auto_now_add=True)
    updated = models.DateTimeField(auto_now=True)

    objects = RecordQuerySet.as_manager()

    class Meta:
        abstract = True
        ordering = ["name", "pk"]

    def __str__(self):
        return self.name


class Measured(models.Model):
    """Something with dimensions; refuses those outside their limits when it is cleaned."""

    dimensions = {}

    class Meta:
        abstract = True

    def clean(self):
        faults = {}
        for name, dimension in self.dimensions.items():
            try:
                dimension.check(self)
            except ValidationError as error:
                faults[name] = error
        if faults:
            raise ValidationError(faults)


class Part(Measured, Record):
    """A part that may lie in stock; `in_stock` is null where nobody counted."""

    in_stock = models.PositiveIntegerField(
        null=True, blank=True, help_text="How many lie in the drawer; empty if not counted."
    )

    class Meta(Record.Meta):
        abstract = True


def refuse_idle(record, *, flag, prefix, thing):
    """Refuse dimensions of something that `record` is said not to have (ValidationError on `flag`)."""
    given = [name for name, one in record.dimensions.items() if name.startswith(prefix) and one.text(record)]
    if given and not getattr(record, flag):
        label = record.dimensions[given[0]].input.label
        raise ValidationError(
            {
                flag: f"The {label} of a {thing} is given. "
                f"Say that there is a {thing}, or empty its dimensions."
            }
        )
