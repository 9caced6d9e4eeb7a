"""What is written down when a watch arrives."""

import secrets

from django.conf import settings
from django.db import models
from django.utils.translation import gettext_noop as _


def _draft_key():
    return secrets.token_hex(8)


class Condition(models.Model):
    """One line of the condition checklist."""

    class Subject(models.TextChoices):
        CRYSTAL = "crystal", _("crystal")
        CASE = "case", _("case")
        CROWN = "crown", _("crown")
        TUBE = "tube", _("tube")
        GASKET = "gasket", _("gasket")
        DIAL = "dial", _("dial")
        LUMINOUS = "luminous", _("luminous paint")
        HANDS = "hands", _("hands")
        RUNS = "runs", _("movement runs")
        WATER = "water", _("signs of water")

    class Finding(models.TextChoices):
        """What was seen; "runs" and "water" are answered with yes or no."""

        GOOD = "good", _("good")
        WORN = "worn", _("worn")
        DAMAGED = "damaged", _("damaged")
        MISSING = "missing", _("missing")
        YES = "yes", _("yes")
        NO = "no", _("no")

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
