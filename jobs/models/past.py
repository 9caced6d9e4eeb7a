"""What came of a job, and the records by which past jobs are found and counted."""

from django.conf import settings
from django.db import models
from django.db.models import Q
from django.utils.translation import gettext_lazy as lazy


class Outcome(models.Model):
    """What came of one job, in the words of who did it; `word` is empty while nothing was said yet."""

    class Word(models.TextChoices):
        WELL = "well", lazy("fitted as planned")
        TROUBLE = "trouble", lazy("fitted, with trouble on the way")
        CHANGED = "changed", lazy("fitted, but not as planned")
        FAILED = "failed", lazy("did not fit")

    job = models.OneToOneField("jobs.Job", on_delete=models.CASCADE, related_name="outcome")
    word = models.CharField(lazy("how it turned out"), max_length=7, choices=Word.choices, blank=True)
    went_wrong = models.TextField(lazy("what went wrong"), blank=True, max_length=5000)
    next_time = models.TextField(lazy("for next time"), blank=True, max_length=5000)
    ring = models.ForeignKey(
        "parts.HolderDesign", on_delete=models.PROTECT, null=True, blank=True, related_name="ring_of"
    )
    spacer = models.ForeignKey(
        "parts.HolderDesign", on_delete=models.PROTECT, null=True, blank=True, related_name="spacer_of"
    )
    learn = models.BooleanField(lazy("keep as a lesson"), default=False)
    learn_why = models.CharField(lazy("the lesson"), max_length=300, blank=True)
    updated = models.DateTimeField(auto_now=True)

    def __str__(self):
        return self.get_word_display() or "not noted yet"


class Hindsight(models.Model):
    """What the bench said of one check where the report had spoken before; verdicts by the report's own words.

    `said` is the verdict of the kept report, `found` that of the bench. Emptied, a row stays and no longer counts.
    """

    class Found(models.TextChoices):
        FITS = "fits", lazy("fitted as it was")
        WORK = "work", lazy("needed work")
        NO = "no", lazy("did not fit")

    job = models.ForeignKey("jobs.Job", on_delete=models.CASCADE, related_name="hindsights")
    check_key = models.CharField(max_length=40)
    title = models.CharField(max_length=120)
    said = models.CharField(max_length=7)
    found = models.CharField(max_length=4, choices=Found.choices, blank=True)
    note = models.CharField(max_length=300, blank=True)
    by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+")
    at = models.DateTimeField(auto_now=True)

    class Meta:
        ordering = ["pk"]
        constraints = [models.UniqueConstraint(fields=["job", "check_key"], name="one_hindsight_a_check")]

    def __str__(self):
        return f"{self.title}: {self.said}, then {self.found or 'nothing noted'}"


class Past(models.Model):
    """One job as it is found and counted: everything here follows from the job and is made anew by `rebuild`.

    `day` is that of the last closing, of logging for an open job, `month` its year and month as 202611. `quoted` and
    `took` are minutes, of the accepted quote and as spent; `spent` maps stages to theirs. `days` runs from logging to
    closing. `reported` tells whether a report was kept; `facts` is for showing only.
    """

    job = models.OneToOneField("jobs.Job", on_delete=models.CASCADE, primary_key=True, related_name="past")
    state = models.CharField(max_length=8)
    stage = models.CharField(max_length=9, blank=True)
    outcome = models.CharField(max_length=7, blank=True)
    learn = models.BooleanField(default=False)
    family = models.ForeignKey("parts.CaseFamily", on_delete=models.SET_NULL, null=True, related_name="+")
    movement = models.ForeignKey("parts.Movement", on_delete=models.SET_NULL, null=True, related_name="+")
    hands = models.ForeignKey("parts.HandSet", on_delete=models.SET_NULL, null=True, related_name="+")
    case = models.ForeignKey("parts.Case", on_delete=models.SET_NULL, null=True, related_name="+")
    day = models.DateField()
    month = models.PositiveIntegerField()
    days = models.FloatField(null=True)
    quoted = models.FloatField(null=True)
    took = models.FloatField(null=True)
    spent = models.JSONField(default=dict)
    reported = models.BooleanField(default=False)
    facts = models.JSONField(default=dict)
    written = models.DateTimeField(auto_now=True)

    class Meta:
        indexes = [
            models.Index(fields=["-day", "-job"], name="past_by_day"),
            models.Index(fields=["state", "-day", "-job"], name="past_by_state"),
            models.Index(fields=["family", "-day", "-job"], name="past_by_family"),
            models.Index(fields=["movement", "-day", "-job"], name="past_by_movement"),
            models.Index(fields=["outcome", "-day", "-job"], name="past_by_outcome"),
            models.Index(fields=["stage", "-day", "-job"], name="past_by_stage"),
            models.Index(fields=["-written"], name="past_by_writing"),
            models.Index(fields=["-day", "-job"], condition=Q(learn=True), name="past_to_learn"),
        ]

    def __str__(self):
        return f"record of job {self.job_id}"


class PastCheck(models.Model):
    """A check of a job's last kept report that did not simply fit, or that the bench has spoken on."""

    past = models.ForeignKey(Past, on_delete=models.CASCADE, related_name="checks")
    check_key = models.CharField(max_length=40)
    title = models.CharField(max_length=120, default="")
    said = models.CharField(max_length=7)
    found = models.CharField(max_length=4, blank=True)

    class Meta:
        ordering = ["pk"]

    def __str__(self):
        return f"{self.title}: {self.said}"


class PastText(models.Model):
    """Everything written about one job. `told` holds (source, where, text), `head` and `body` its words, folded.

    The database keeps the word index of head and body by itself (migration 0006). SQLite's triggers would be lost with
    a rebuilt table: a migration that alters this table makes index and triggers anew.
    """

    job = models.OneToOneField("jobs.Job", on_delete=models.CASCADE, primary_key=True, related_name="past_text")
    head = models.TextField()
    body = models.TextField()
    told = models.JSONField()

    def __str__(self):
        return self.head


class PastWord(models.Model):
    """A word that somebody wrote, folded; what a mistyped one is held against."""

    word = models.CharField(max_length=60, primary_key=True)
    length = models.PositiveSmallIntegerField(db_index=True)

    def __str__(self):
        return self.word


class StaleRecord(models.Model):
    """A job that changed since its record was made; a row for each change, taken away as the record is made anew."""

    job = models.ForeignKey("jobs.Job", on_delete=models.CASCADE, related_name="+")

    def __str__(self):
        return f"job {self.job_id}"
