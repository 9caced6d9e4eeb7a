"""Photos of a job."""

import secrets

from django.conf import settings
from django.db import models

SIGNED = "Signed: version"
"""How the captions of signed quotes begin."""


def _file_name(photo, _):
    return f"photos/{photo.job_id}/{secrets.token_hex(12)}.jpg"


def _thumbnail_name(photo, _):
    return f"photos/{photo.job_id}/{secrets.token_hex(12)}-small.jpg"


class Photo(models.Model):
    """A photo, re-encoded without its metadata; `stage` is where it was taken, intake included."""

    job = models.ForeignKey("jobs.Job", on_delete=models.CASCADE, related_name="photos")
    stage = models.CharField(max_length=9, default="intake")
    file = models.ImageField(upload_to=_file_name)
    thumbnail = models.ImageField(upload_to=_thumbnail_name)
    caption = models.CharField(max_length=200, blank=True)
    taken = models.DateTimeField(auto_now_add=True)
    by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+")
    put_away = models.BooleanField(default=False, editable=False)

    class Meta:
        ordering = ["pk"]

    def __str__(self):
        return self.caption or f"photo {self.pk}"

    @property
    def has_money(self):
        """A signed quote shows its prices."""
        return self.caption.startswith(SIGNED)
