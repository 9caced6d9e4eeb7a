"""What is written down when a watch arrives, and before: when somebody asks."""

import secrets

from django.conf import settings
from django.core.validators import MinValueValidator
from django.db import models
from django.urls import reverse
from django.utils import timezone
from django.utils.translation import gettext_lazy as lazy
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


class Enquiry(models.Model):
    """Somebody asks whether a watch can be converted, and roughly for how much.

    `words` is the message as it came, `entry` the one of the show window that it names. `job` is what became of it.
    """

    class State(models.TextChoices):
        WAITING = "waiting", lazy("waits for an answer")
        ANSWERED = "answered", lazy("answered")
        JOB = "job", lazy("became a job")
        CLOSED = "closed", lazy("closed")

    class Answer(models.TextChoices):
        GOES = "goes", lazy("would fit")
        MEASURE = "measure", lazy("has to be measured first")
        NOT = "not", lazy("would not fit")

    OPEN = (State.WAITING, State.ANSWERED)

    customer = models.ForeignKey("jobs.Customer", on_delete=models.PROTECT, related_name="enquiries", editable=False)
    came = models.DateField(lazy("came on"), default=timezone.localdate)
    case_family = models.ForeignKey(
        "parts.CaseFamily", on_delete=models.SET_NULL, null=True, related_name="+", editable=False
    )
    entry = models.ForeignKey(
        "jobs.WindowEntry", on_delete=models.SET_NULL, null=True, related_name="enquiries", editable=False
    )
    wish = models.TextField(lazy("what the customer wants"), max_length=2000)
    words = models.TextField(lazy("the message as it came"), max_length=8000, blank=True)
    state = models.CharField(max_length=8, choices=State.choices, default=State.WAITING, editable=False)
    answer = models.CharField(lazy("our answer"), max_length=7, choices=Answer.choices, blank=True)
    price_from = models.DecimalField(
        lazy("price from"), max_digits=9, decimal_places=2, null=True, blank=True, validators=[MinValueValidator(0)]
    )
    answered = models.DateField(null=True, editable=False)
    follow_up = models.DateField(lazy("ask again on"), null=True, blank=True)
    reason = models.CharField(lazy("why it is closed"), max_length=200, blank=True)
    job = models.OneToOneField("jobs.Job", on_delete=models.SET_NULL, null=True, related_name="enquiry", editable=False)
    changed = models.DateTimeField(auto_now=True)
    by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+", editable=False)

    class Meta:
        ordering = ["came", "pk"]
        verbose_name_plural = "enquiries"

    def __str__(self):
        return f"Enquiry of {self.customer}"

    def get_absolute_url(self):
        return reverse("jobs:enquiry", args=[self.pk])

    def become(self, job):
        """The watch has come: the enquiry is this job's."""
        self.state, self.job = self.State.JOB, job
        self.save(update_fields=["state", "job", "changed"])

    @property
    def is_open(self):
        """Whether it still waits, for us or for the customer."""
        return self.state in self.OPEN

    @property
    def about(self):
        """The watch that it is about, as far as it is known: its case family, or the window's entry."""
        return str(self.case_family or self.entry or "")
