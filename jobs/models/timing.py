"""Timing runs: the watch read against a reference over time."""

from django.conf import settings
from django.db import models
from django.utils import timezone
from django.utils.translation import gettext_lazy as lazy


class TimingRun(models.Model):
    """One run. Temperatures in °C, the crystal's coefficient in ppm/°C², voltage in V, current in µA."""

    job = models.ForeignKey("jobs.Job", on_delete=models.CASCADE, related_name="timing_runs")
    as_found = models.BooleanField(default=False, help_text=lazy("The watch as it came, before any work."))
    started = models.DateTimeField(auto_now_add=True)
    by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+")
    bench_temperature = models.FloatField(lazy("bench temperature"), null=True, blank=True)
    cell_voltage = models.FloatField(lazy("cell voltage"), null=True, blank=True)
    current_draw = models.FloatField(lazy("current draw"), null=True, blank=True)
    note = models.CharField(max_length=300, blank=True)
    archived = models.BooleanField(default=False, editable=False)

    class Meta:
        ordering = ["pk"]

    def __str__(self):
        return f"{'As found' if self.as_found else 'Run'} of {timezone.localtime(self.started):%-d %b %Y}"


class Reading(models.Model):
    """Watch minus reference at an instant, both in seconds of the reference; positive is a watch ahead.

    `plus_minus` is the half-width that the reading itself claims (clock offset of the browser for a tap).
    """

    class How(models.TextChoices):
        TAP = "tap", lazy("tapped")
        TYPED = "typed", lazy("typed")

    run = models.ForeignKey(TimingRun, on_delete=models.CASCADE, related_name="readings")
    at = models.DateTimeField()
    offset_s = models.FloatField()
    plus_minus_s = models.FloatField(default=0.0)
    how = models.CharField(max_length=5, choices=How.choices)
    undone = models.BooleanField(default=False, editable=False)

    class Meta:
        ordering = ["at", "pk"]

    def __str__(self):
        return f"{self.offset_s:+.2f} s at {self.at:%Y-%m-%d %H:%M:%S}"
