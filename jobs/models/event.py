"""The history of a job: who did what, when, from what to what."""

from django.conf import settings
from django.core.serializers.json import DjangoJSONEncoder
from django.db import models

from jobs.models.stage import Stage


class Event(models.Model):
    """One thing that happened; written once, never changed, also when what it tells is undone later.

    `kind` and `data` are the facts, for programs: paths, numbers, choices and primary keys, nothing that a person
    typed. `before` and `after` are what people said and how things were called then, for people. `what` holds the
    words of an event older than the kinds; `jobs.history_words` words all the others.
    """

    class Kind(models.TextChoices):
        """Everything that happens to a job; the labels are for people."""

        LOGGED = "logged", "Watch logged"
        CHANGED = "changed", "Changed"
        WAITS = "waits", "Status"
        CLOSED = "closed", "Job closed"
        REOPENED = "reopened", "Job reopened"
        ARCHIVED = "archived", "Job archived"
        BROUGHT_BACK = "brought-back", "Job brought back"
        TAKEN_OVER = "taken-over", "Taken over"
        ERASED = "erased", "Customer's personal data erased"
        GO_AHEAD = "go-ahead", "Go-ahead noted"
        GO_AHEAD_UNDONE = "go-ahead-undone", "Go-ahead undone"
        CLEARED = "cleared", "Luminous paint cleared"
        CLEARANCE_UNDONE = "clearance-undone", "Clearance of luminous paint undone"
        STAGE_CLOSED = "stage-closed", "done"
        STAGE_SKIPPED = "stage-skipped", "skipped"
        STAGE_REOPENED = "stage-reopened", "reopened"
        TICKED = "ticked", "Ticked"
        TICK_UNDONE = "tick-undone", "Tick undone"
        MEASURED = "measured", "Measured"
        MEASUREMENT_UNDONE = "measurement-undone", "Measurement undone"
        OWN_COPY = "own-copy", "Own copy made"
        TIME_ADDED = "time-added", "Time added by hand"
        TIME_LEFT_OUT = "time-left-out", "Time left out"
        TIME_COUNTED = "time-counted", "Time counted again"
        OPTION_ADDED = "option-added", "Option added"
        OPTION_CHOSEN = "option-chosen", "Option chosen"
        OPTION_RULED_OUT = "option-ruled-out", "Option ruled out"
        OPTION_RECONSIDERED = "option-reconsidered", "Option reconsidered"
        REPORT_RENEWED = "report-renewed", "Report renewed"
        QUOTE_DRAFTED = "quote-drafted", "Quote drafted"
        QUOTE_SENT = "quote-sent", "Quote marked as sent"
        QUOTE_ACCEPTED = "quote-accepted", "Quote accepted"
        QUOTE_REFUSED = "quote-refused", "Quote declined"
        ANSWER_UNDONE = "answer-undone", "Answer to the quote undone"
        PAYMENT = "payment", "Payment noted"
        PAYMENT_UNDONE = "payment-undone", "Payment undone"
        INVOICED = "invoiced", "Invoice issued"
        CREDITED = "credited", "Credit note issued"
        ORDER = "order", "Part to buy"
        PAPER = "paper", "Paper made"
        PHOTO_ADDED = "photo-added", "Photo added"
        PHOTO_CAPTION = "photo-caption", "Photo's caption"
        PHOTO_ARCHIVED = "photo-archived", "Photo archived"
        PHOTO_BACK = "photo-back", "Photo brought back"
        RUN_STARTED = "run-started", "Timing run started"
        RUN_CHANGED = "run-changed", "Changed"
        RUN_ARCHIVED = "run-archived", "Timing run archived"
        RUN_BACK = "run-back", "Timing run brought back"
        READING_LEFT_OUT = "reading-left-out", "Reading left out"
        READING_COUNTED = "reading-counted", "Reading counted again"
        PUT_ASIDE = "put-aside", "Part set aside"
        PART_USED = "part-used", "Part used"
        PART_PUT_BACK = "part-put-back", "Part put back"
        OUTCOME = "outcome", "Outcome"
        HINDSIGHT = "hindsight", "At the bench"
        TO_LEARN = "to-learn", "Kept as a lesson"
        NOT_TO_LEARN = "not-to-learn", "No longer a lesson"
        PROMISED = "promised", "Follow-up promised"
        FOLLOWED_UP = "followed-up", "Done"
        FOLLOW_UP_UNDONE = "follow-up-undone", "Not done after all"
        ASKED = "asked", "Customer asked"
        NOT_WANTED = "not-wanted", "No longer wanted"
        WANTED_AGAIN = "wanted-again", "Wanted again"
        LETTER = "letter", "E-mail sent"
        SHOWN = "shown-in-window", "Put in the show window"
        TAKEN_OUT = "out-of-window", "Taken out of the show window"
        UNREAD = "unread", "Told in words only"

    MONEY_FIELDS = ("diagnosis_fee",)
    """The fields of a job that hold money."""

    job = models.ForeignKey("jobs.Job", on_delete=models.CASCADE, related_name="events")
    at = models.DateTimeField(auto_now_add=True)
    by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+")
    kind = models.CharField(max_length=20, choices=Kind.choices)
    data = models.JSONField(default=dict, encoder=DjangoJSONEncoder)
    stage = models.CharField(max_length=9, blank=True, choices=Stage.Kind.choices)
    before = models.TextField(blank=True)
    after = models.TextField(blank=True)
    what = models.CharField(max_length=200, blank=True)

    class Meta:
        ordering = ["-pk"]

    def __str__(self):
        return self.what or self.get_kind_display()

    @property
    def has_money(self):
        """Whether it tells of a fee; of a change whose field is not on record that cannot be ruled out."""
        return self.kind == self.Kind.CHANGED and self.data.get("field") in (None, *self.MONEY_FIELDS)
