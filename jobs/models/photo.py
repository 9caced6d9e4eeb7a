"""Photos of a job."""

import secrets

from django.conf import settings
from django.db import models
from django.utils.translation import gettext_lazy as lazy


def _file_name(photo, _):
    return f"photos/{photo.job_id}/{secrets.token_hex(12)}.jpg"


def _original_name(photo, name):
    return f"photos/{photo.job_id}/{secrets.token_hex(12)}-original.{name.rpartition('.')[2]}"


def _thumbnail_name(photo, _):
    return f"photos/{photo.job_id}/{secrets.token_hex(12)}-small.jpg"


class Photo(models.Model):
    """A photo, re-encoded without its metadata; `stage` is where it was taken, intake included.

    `quote` is the version that a signed quote shows; `original` the photo as it came, where the shop keeps those.
    `place` is its place among the job's photos, `before` the photo that shows the same before the work, and `marks` are
    what is drawn on it (`jobs/photos/marks.py`).
    """

    class Kind(models.TextChoices):
        WATCH = "watch", lazy("the watch")
        SIGNED = "signed", lazy("a signed quote")

    job = models.ForeignKey("jobs.Job", on_delete=models.CASCADE, related_name="photos")
    kind = models.CharField(max_length=6, choices=Kind.choices, default=Kind.WATCH, editable=False)
    quote = models.ForeignKey(
        "jobs.Quote", on_delete=models.SET_NULL, null=True, blank=True, editable=False, related_name="photos"
    )
    stage = models.CharField(max_length=9, default="intake")
    file = models.ImageField(upload_to=_file_name)
    thumbnail = models.ImageField(upload_to=_thumbnail_name)
    original = models.FileField(upload_to=_original_name, blank=True, editable=False)
    place = models.PositiveIntegerField(default=0, editable=False)
    is_cover = models.BooleanField(default=False, editable=False)
    before = models.OneToOneField(
        "self", on_delete=models.SET_NULL, null=True, blank=True, editable=False, related_name="after"
    )
    marks = models.JSONField(default=list, blank=True, editable=False)
    caption = models.CharField(max_length=200, blank=True)
    taken = models.DateTimeField(auto_now_add=True)
    by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+")
    archived = models.BooleanField(default=False, editable=False)

    class Meta:
        ordering = ["place", "pk"]
        constraints = [
            models.UniqueConstraint(fields=["job"], condition=models.Q(is_cover=True), name="one_cover_a_job")
        ]

    def __str__(self):
        return self.caption or f"photo {self.pk}"

    @property
    def has_money(self):
        """A signed quote shows its prices."""
        return self.kind == self.Kind.SIGNED
