"""Pairings: parts that are to go together, and what the fit check said of them."""

from django.db import models

from parts.models.base import Own, Record, RecordQuerySet

PARTS = ("case", "dial", "movement", "hands", "stem", "crown")
"""The parts of a pairing, as its fields and as the pairing sheet call them."""


class PairingQuerySet(RecordQuerySet):
    def with_parts(self):
        """With everything that the pairing sheet needs, in a fixed number of queries."""
        return self.select_related(
            "case__family", "dial__family", "movement", "hands", "stem", "crown"
        ).prefetch_related("dial__feet", "dial__furniture", "movement__foot_holes", "hands__hands")


def _part(model):
    return models.ForeignKey(f"parts.{model}", on_delete=models.PROTECT, null=True, blank=True, related_name="pairings")


class Pairing(Own, Record):
    """One choice of parts; a part not chosen is null.

    `what_if` maps a path of the pairing sheet to the text typed instead of the part's own number. `report` is
    the fit check's answer as JSON, as it was computed at `computed_at`.
    """

    class Placement(models.TextChoices):
        """Where a spacer goes."""

        AUTO = "auto", "wherever it fits better"
        FRONT = "front", "in front of the dial"
        REAR = "rear", "behind the dial"

    case = _part("Case")
    dial = _part("Dial")
    movement = _part("Movement")
    hands = _part("HandSet")
    stem = _part("Stem")
    crown = _part("Crown")
    placement = models.CharField("spacer", max_length=5, choices=Placement.choices, default=Placement.AUTO)
    what_if = models.JSONField(default=dict, blank=True)
    report = models.JSONField(null=True, blank=True)
    computed_at = models.DateTimeField(null=True, blank=True)

    objects = PairingQuerySet.as_manager()  # type: ignore[misc]  # a manager of its own in place of every record's

    class Meta(Record.Meta):
        pass

    @property
    def chosen(self):
        """The names of the parts that are chosen."""
        return [name for name in PARTS if getattr(self, f"{name}_id") is not None]

    @property
    def not_chosen(self):
        """The names of the parts that are still open."""
        return [name for name in PARTS if name not in self.chosen]

    @property
    def part_keys(self):
        """The primary keys of its parts in one text, the same for the same choice."""
        return "-".join(str(getattr(self, f"{name}_id") or "") for name in PARTS)
