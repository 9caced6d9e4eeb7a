"""Photos of a job."""

import secrets

from django.conf import settings
from django.db import models


def _file_name(photo, _):
    return f"photos/{photo.job_id}/{secrets.token_hex(12)}.jpg"


def _thumbnail_name(photo, _):
    return f"photos/{photo.job_id}/{secrets.token_hex(12)}-small.jpg"


class Photo(models.Model):
    """A photo, re-encoded without its metadata; `stage` is where it was taken, intake included.

    `quote` is the version that a signed quote shows.
    """

    class Kind(models.TextChoices):
        WATCH = "watch", "the watch"
        SIGNED = "signed", "a signed quote"

    job = models.ForeignKey("jobs.Job", on_delete=models.CASCADE, related_name="photos")
    kind = models.CharField(max_length=6, choices=Kind.choices, default=Kind.WATCH, editable=False)
    quote = models.ForeignKey(
        "jobs.Quote", on_delete=models.SET_NULL, null=True, blank=True, editable=False, related_name="photos"
    )
    stage = models.CharField(max_length=9, default="intake")
    file = models.ImageField(upload_to=_file_name)
    thumbnail = models.ImageField(upload_to=_thumbnail_name)
    caption = models.CharField(max_length=200, blank=True)
    taken = models.DateTimeField(auto_now_add=True)
    by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+")
    archived = models.BooleanField(default=False, editable=False)

    class Meta:
        ordering = ["pk"]

    def __str__(self):
        return self.caption or f"photo {self.pk}"

    @property
    def has_money(self):
        """A signed quote shows its prices."""
        return self.kind == self.Kind.SIGNED
