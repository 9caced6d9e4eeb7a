"""The stages of a job, what is ticked in them, and the time spent."""

from decimal import Decimal

from django.conf import settings
from django.core.validators import MaxValueValidator, MinValueValidator
from django.db import models
from django.db.models import Q
from django.utils.translation import gettext_lazy as lazy
from django.utils.translation import gettext_noop as _


class Stage(models.Model):
    """One stage of one job; `measured` maps a path of the pairing sheet to what was measured in this stage.

    `pressure_bar` is the overpressure in bar that the closed watch held, noted in the handover stage.
    """

    class Kind(models.TextChoices):
        INTAKE = "intake", _("intake")
        TEARDOWN = "teardown", _("teardown")
        HOLDER = "holder", _("holder")
        DIAL = "dial", _("dial")
        HANDS = "hands", _("hands")
        STEM = "stem", _("stem")
        TIMING = "timing", _("timing test")
        HANDOVER = "handover", _("handover")

    class State(models.TextChoices):
        AHEAD = "ahead", lazy("to do")
        DONE = "done", lazy("done")
        SKIPPED = "skipped", lazy("skipped")

    job = models.ForeignKey("jobs.Job", on_delete=models.CASCADE, related_name="stages")
    kind = models.CharField(max_length=9, choices=Kind.choices)
    state = models.CharField(max_length=7, choices=State.choices, default=State.AHEAD)
    reason = models.CharField(lazy("why it was skipped"), max_length=300, blank=True)
    remarks = models.TextField(blank=True, max_length=5000)
    pressure_bar = models.DecimalField(
        lazy("pressure test passed at"),
        max_digits=4,
        decimal_places=1,
        null=True,
        blank=True,
        validators=[MinValueValidator(Decimal("0.1")), MaxValueValidator(Decimal(200))],
    )
    measured = models.JSONField(default=dict, editable=False)

    class Meta:
        ordering = ["pk"]
        constraints = [models.UniqueConstraint(fields=["job", "kind"], name="one_stage_of_each_kind")]

    def __str__(self):
        return self.get_kind_display()


class Tick(models.Model):
    """One item of a stage's checklist that was ticked; the list itself follows from the fit report.

    `name` is the item's whatever it says, `key` that of the item with its facts, `text` its words as they were ticked.
    """

    stage = models.ForeignKey(Stage, on_delete=models.CASCADE, related_name="ticks")
    name = models.CharField(max_length=50)
    key = models.CharField(max_length=60)
    text = models.TextField(blank=True)
    at = models.DateTimeField(auto_now_add=True)
    by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+")

    class Meta:
        constraints = [models.UniqueConstraint(fields=["stage", "key"], name="one_tick_an_item")]

    def __str__(self):
        return self.key


class WorkTime(models.Model):
    """Time spent in a stage: a timer that may still run (`ended` null), or minutes put in by hand."""

    stage = models.ForeignKey(Stage, on_delete=models.CASCADE, related_name="work_times")
    started = models.DateTimeField()
    ended = models.DateTimeField(null=True, blank=True)
    by_hand = models.BooleanField(default=False)
    note = models.CharField(max_length=200, blank=True)
    by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+")
    undone = models.BooleanField(default=False, editable=False)

    class Meta:
        ordering = ["pk"]
        constraints = [
            models.UniqueConstraint(
                fields=["by"], condition=Q(ended__isnull=True, undone=False), name="one_timer_a_person"
            ),
        ]

    def __str__(self):
        return f"{self.stage} from {self.started:%Y-%m-%d %H:%M}"
