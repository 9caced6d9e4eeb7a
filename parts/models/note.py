"""Notes of traps and tricks, kept with a case family or a movement."""

from django.conf import settings
from django.db import models
from django.db.models import Q
from django.utils.translation import gettext_lazy as lazy

from parts.models.base import RecordQuerySet


class PartNote(models.Model):
    """One tip. A changed wording is a note of its own; the older one is put away and can come back."""

    family = models.ForeignKey(
        "parts.CaseFamily", on_delete=models.CASCADE, null=True, blank=True, related_name="tricks"
    )
    movement = models.ForeignKey(
        "parts.Movement", on_delete=models.CASCADE, null=True, blank=True, related_name="tricks"
    )
    text = models.TextField(lazy("tip"), max_length=2000)
    by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+")
    at = models.DateTimeField(auto_now_add=True)
    archived = models.BooleanField(lazy("archived"), default=False)
    archived_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, on_delete=models.PROTECT, null=True, blank=True, related_name="+"
    )
    archived_at = models.DateTimeField(null=True, blank=True)

    objects = RecordQuerySet.as_manager()

    class Meta:
        ordering = ["pk"]
        constraints = [
            models.CheckConstraint(
                condition=Q(family__isnull=False, movement__isnull=True)
                | Q(family__isnull=True, movement__isnull=False),
                name="a_note_is_of_one_part",
            )
        ]

    def __str__(self):
        return self.text[:60]

    @property
    def of(self):
        """The case family or movement that the note is about."""
        return self.family or self.movement
