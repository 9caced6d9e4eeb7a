"""What is written down when a watch arrives."""

import secrets

from django.conf import settings
from django.db import models


def _draft_key():
    return secrets.token_hex(8)


class Condition(models.Model):
    """One line of the condition checklist."""

    class Subject(models.TextChoices):
        CRYSTAL = "crystal", "crystal"
        CASE = "case", "case"
        CROWN = "crown", "crown"
        TUBE = "tube", "tube"
        GASKET = "gasket", "gasket"
        DIAL = "dial", "dial"
        LUMINOUS = "luminous", "luminous paint"
        HANDS = "hands", "hands"
        RUNS = "runs", "movement runs"
        WATER = "water", "signs of water"

    class Finding(models.TextChoices):
        """What was seen; "runs" and "water" are answered with yes or no."""

        GOOD = "good", "good"
        WORN = "worn", "worn"
        DAMAGED = "damaged", "damaged"
        MISSING = "missing", "missing"
        YES = "yes", "yes"
        NO = "no", "no"

    job = models.ForeignKey("jobs.Job", on_delete=models.CASCADE, related_name="conditions")
    subject = models.CharField(max_length=8, choices=Subject.choices)
    finding = models.CharField(max_length=7, choices=Finding.choices, blank=True)
    remark = models.CharField(max_length=300, blank=True)

    class Meta:
        ordering = ["pk"]
        constraints = [models.UniqueConstraint(fields=["job", "subject"], name="one_condition_a_subject")]

    def __str__(self):
        return f"{self.get_subject_display()}: {self.get_finding_display() or 'not looked at'}"


class Draft(models.Model):
    """What a person has typed into the intake page and not saved yet; one a person.

    `key` names this draft: the browser keeps a copy under it for when the connection is lost.
    """

    user = models.OneToOneField(settings.AUTH_USER_MODEL, on_delete=models.CASCADE, related_name="intake_draft")
    key = models.CharField(max_length=32, default=_draft_key)
    data = models.JSONField(default=dict)
    updated = models.DateTimeField(auto_now=True)

    def __str__(self):
        return f"draft of {self.user}"
