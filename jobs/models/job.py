"""A job: one customer's watch from the parcel to the parcel."""

from django.conf import settings
from django.core.validators import MinValueValidator
from django.db import models
from django.db.models import Q
from django.urls import reverse
from django.utils.translation import gettext
from django.utils.translation import gettext_lazy as lazy

from jobs.models.stage import Stage
from parts.models import CaseFamily, Pairing


def day_or_last() -> models.Func:
    """The promised day to sort by; a job without one comes after all that have one.

    The day stands in the SQL as it stands in the index: a database does not know a parameter for it.
    """
    return models.Func("promised", template="COALESCE(%(expressions)s, '9999-12-31')", output_field=models.DateField())


class JobNumber(models.Model):
    """The last number given out in a year; its row is locked while the next one is taken."""

    year = models.PositiveSmallIntegerField(unique=True)
    last = models.PositiveIntegerField(default=0)

    def __str__(self):
        return f"{self.year}: {self.last}"


class JobQuerySet(models.QuerySet):
    def open(self):
        """Jobs on the bench: neither closed nor archived."""
        return self.filter(state=Job.State.OPEN, archived=False)


class Job(models.Model):
    """One watch. `stage` is the stage that comes next, `waits_for` who or what it waits for."""

    class State(models.TextChoices):
        OPEN = "open", lazy("open")
        FINISHED = "finished", lazy("finished")
        DECLINED = "declined", lazy("declined by the customer")
        RETURNED = "returned", lazy("returned as it came")

    class WaitsFor(models.TextChoices):
        ME = "me", lazy("Your turn")
        PARTS = "parts", lazy("Waiting for parts")
        CUSTOMER = "customer", lazy("Waiting for the customer")
        NOTHING = "nothing", lazy("Paused")

    class Luminous(models.TextChoices):
        """What the luminous material looks like; unmarked and aged counts as radium until it is cleared."""

        NONE = "none", lazy("none")
        AGED = "aged", lazy("old, unmarked: treat as radium")
        MARKED = "marked", lazy("old, marked non-radium")
        MODERN = "modern", lazy("modern")

    number = models.CharField(max_length=12, unique=True, editable=False)
    customer = models.ForeignKey("jobs.Customer", on_delete=models.PROTECT, related_name="jobs")
    case_family = models.ForeignKey(CaseFamily, on_delete=models.PROTECT, null=True, blank=True, related_name="jobs")
    watch = models.CharField(lazy("the watch as found"), max_length=200, blank=True)
    serial = models.CharField(lazy("serial number"), max_length=60, blank=True)
    wish = models.TextField(lazy("what the customer wants"), max_length=2000)
    came_with = models.TextField(lazy("came with"), blank=True, max_length=1000, help_text=lazy("Box, strap, papers."))
    keep = models.TextField(lazy("to be kept"), blank=True, max_length=1000)
    luminous = models.CharField(lazy("luminous paint"), max_length=6, choices=Luminous.choices)
    promised = models.DateField(lazy("promised for"), null=True, blank=True)
    diagnosis_fee = models.DecimalField(
        lazy("agreed diagnosis fee"), max_digits=8, decimal_places=2, null=True, blank=True
    )
    declared_value = models.DecimalField(
        lazy("declared value"), max_digits=9, decimal_places=2, null=True, blank=True, validators=[MinValueValidator(0)]
    )
    state = models.CharField(max_length=8, choices=State.choices, default=State.OPEN)
    archived = models.BooleanField(default=False, editable=False)
    waits_for = models.CharField(lazy("status"), max_length=8, choices=WaitsFor.choices, default=WaitsFor.ME)
    stage = models.CharField(max_length=9, default="teardown", editable=False)
    remarks = models.TextField(blank=True, max_length=5000)
    logged = models.DateTimeField(auto_now_add=True)
    updated = models.DateTimeField(auto_now=True)

    objects = JobQuerySet.as_manager()

    class Meta:
        ordering = ["-pk"]
        indexes = [
            models.Index("state", "waits_for", day_or_last(), "id", condition=Q(archived=False), name="jobs_waiting"),
            models.Index("state", day_or_last(), "id", condition=Q(archived=False), name="jobs_by_day"),
        ]

    def __str__(self):
        return f"Job {self.number}"

    def get_absolute_url(self):
        return reverse("jobs:job", args=[self.number])

    OWNER = "job"
    """The field by which payments, invoices and papers belong to it."""

    def address(self, name, *keys):
        """The address of something of this job, such as ("invoice", 3)."""
        return reverse(f"jobs:{name}", args=[self.number, *keys])

    @property
    def stage_word(self):
        """The stage that comes next, as a person says it; empty once all are done."""
        return Stage.Kind(self.stage).label if self.stage else ""

    @property
    def title(self):
        """The watch in a few words: its case family, or as it was described."""
        return str(self.case_family) if self.case_family else self.watch or gettext("watch")


class LuminousClearance(models.Model):
    """How unmarked aged luminous material was cleared before the watch is opened; undone, it stays on record."""

    class How(models.TextChoices):
        READING = "reading", lazy("instrument reading")
        MARKING = "marking", lazy("maker's mark for non-radium paint")
        DECLINED = "declined", lazy("work on hands and dial declined")

    job = models.ForeignKey(Job, on_delete=models.CASCADE, related_name="clearances")
    how = models.CharField(max_length=8, choices=How.choices)
    note = models.TextField(max_length=1000)
    on = models.DateField()
    by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+")
    undone = models.BooleanField(default=False, editable=False)

    class Meta:
        ordering = ["-pk"]

    def __str__(self):
        return self.get_how_display()


class GoAhead(models.Model):
    """The customer's recorded yes to opening the watch; undone, it stays on record."""

    class How(models.TextChoices):
        PHONE = "phone", lazy("by phone")
        EMAIL = "email", lazy("by e-mail")
        PERSON = "person", lazy("in person")
        SIGNED = "signed", lazy("signed on paper")

    job = models.ForeignKey(Job, on_delete=models.CASCADE, related_name="go_aheads")
    how = models.CharField(max_length=6, choices=How.choices)
    said_by = models.CharField(lazy("given by"), max_length=120)
    note = models.TextField(max_length=1000, blank=True)
    on = models.DateField()
    by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+")
    undone = models.BooleanField(default=False, editable=False)

    class Meta:
        ordering = ["-pk"]

    def __str__(self):
        return f"{self.get_how_display()}, {self.said_by}"


class Option(models.Model):
    """A pairing that the job weighs; at most one is chosen."""

    job = models.ForeignKey(Job, on_delete=models.CASCADE, related_name="options")
    pairing = models.OneToOneField(Pairing, on_delete=models.PROTECT, related_name="job_option")
    chosen = models.BooleanField(default=False)
    ruled_out = models.BooleanField(default=False, editable=False)
    added = models.DateTimeField(auto_now_add=True)

    class Meta:
        ordering = ["pk"]
        constraints = [
            models.UniqueConstraint(fields=["job"], condition=Q(chosen=True), name="one_chosen_option"),
        ]

    def __str__(self):
        return str(self.pairing)


class OptionReport(models.Model):
    """A report of an option as it was computed, never changed afterwards; `why` says what made it."""

    option = models.ForeignKey(Option, on_delete=models.CASCADE, related_name="reports")
    report = models.JSONField()
    why = models.CharField(max_length=200)
    computed = models.DateTimeField(auto_now_add=True)

    class Meta:
        ordering = ["-pk"]

    def __str__(self):
        return f"{self.option}: {self.report.get('verdict')}"

    @property
    def answered(self):
        """The report's checks that have a verdict; the others waited for parts that were not chosen."""
        return [check for check in self.report["checks"] if check["verdict"] is not None]
