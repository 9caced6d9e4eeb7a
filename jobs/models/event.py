"""The history of a job: who did what, when, from what to what."""

from django.conf import settings
from django.db import models

FEE_CHANGED = "Changed: Agreed diagnosis fee"


class Event(models.Model):
    """One thing that happened; written once, never changed, also when what it tells is undone later."""

    job = models.ForeignKey("jobs.Job", on_delete=models.CASCADE, related_name="events")
    at = models.DateTimeField(auto_now_add=True)
    by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+")
    what = models.CharField(max_length=200)
    stage = models.CharField(max_length=9, blank=True)
    before = models.TextField(blank=True)
    after = models.TextField(blank=True)

    class Meta:
        ordering = ["-pk"]

    def __str__(self):
        return self.what

    @property
    def has_money(self):
        return self.what == FEE_CHANGED
