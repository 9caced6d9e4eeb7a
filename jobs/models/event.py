"""The history of a job: who did what, when, from what to what."""

from django.conf import settings
from django.core.serializers.json import DjangoJSONEncoder
from django.db import models
from django.utils.translation import gettext_lazy as lazy

from jobs.models.stage import Stage


class Event(models.Model):
    """One thing that happened; written once, never changed, also when what it tells is undone later.

    `kind` and `data` are the facts, for programs: paths, numbers, choices and primary keys, nothing that a person
    typed. `before` and `after` are what people said and how things were called then, for people. `what` holds the
    words of an event older than the kinds; `jobs.history_words` words all the others.
    """

    class Kind(models.TextChoices):
        """Everything that happens to a job; the labels are for people."""

        LOGGED = "logged", lazy("Watch logged")
        CHANGED = "changed", lazy("Changed")
        WAITS = "waits", lazy("Status")
        CLOSED = "closed", lazy("Job closed")
        REOPENED = "reopened", lazy("Job reopened")
        ARCHIVED = "archived", lazy("Job archived")
        BROUGHT_BACK = "brought-back", lazy("Job brought back")
        TAKEN_OVER = "taken-over", lazy("Taken over")
        ERASED = "erased", lazy("Customer's personal data erased")
        GO_AHEAD = "go-ahead", lazy("Go-ahead noted")
        GO_AHEAD_UNDONE = "go-ahead-undone", lazy("Go-ahead undone")
        CLEARED = "cleared", lazy("Luminous paint cleared")
        CLEARANCE_UNDONE = "clearance-undone", lazy("Clearance of luminous paint undone")
        STAGE_CLOSED = "stage-closed", lazy("done")
        STAGE_SKIPPED = "stage-skipped", lazy("skipped")
        STAGE_REOPENED = "stage-reopened", lazy("reopened")
        TICKED = "ticked", lazy("Ticked")
        TICK_UNDONE = "tick-undone", lazy("Tick undone")
        MEASURED = "measured", lazy("Measured")
        MEASUREMENT_UNDONE = "measurement-undone", lazy("Measurement undone")
        OWN_COPY = "own-copy", lazy("Own copy made")
        TIME_ADDED = "time-added", lazy("Time added by hand")
        TIME_LEFT_OUT = "time-left-out", lazy("Time left out")
        TIME_COUNTED = "time-counted", lazy("Time counted again")
        OPTION_ADDED = "option-added", lazy("Option added")
        OPTION_CHOSEN = "option-chosen", lazy("Option chosen")
        OPTION_RULED_OUT = "option-ruled-out", lazy("Option ruled out")
        OPTION_RECONSIDERED = "option-reconsidered", lazy("Option reconsidered")
        REPORT_RENEWED = "report-renewed", lazy("Report renewed")
        QUOTE_DRAFTED = "quote-drafted", lazy("Quote drafted")
        QUOTE_SENT = "quote-sent", lazy("Quote marked as sent")
        QUOTE_ACCEPTED = "quote-accepted", lazy("Quote accepted")
        QUOTE_REFUSED = "quote-refused", lazy("Quote declined")
        ANSWER_UNDONE = "answer-undone", lazy("Answer to the quote undone")
        PAYMENT = "payment", lazy("Payment noted")
        PAYMENT_UNDONE = "payment-undone", lazy("Payment undone")
        INVOICED = "invoiced", lazy("Invoice issued")
        CREDITED = "credited", lazy("Credit note issued")
        ORDER = "order", lazy("Part to buy")
        PAPER = "paper", lazy("Paper made")
        PHOTO_ADDED = "photo-added", lazy("Photo added")
        PHOTO_CAPTION = "photo-caption", lazy("Photo's caption")
        PHOTO_ARCHIVED = "photo-archived", lazy("Photo archived")
        PHOTO_BACK = "photo-back", lazy("Photo brought back")
        RUN_STARTED = "run-started", lazy("Timing run started")
        RUN_CHANGED = "run-changed", lazy("Changed")
        RUN_ARCHIVED = "run-archived", lazy("Timing run archived")
        RUN_BACK = "run-back", lazy("Timing run brought back")
        READING_LEFT_OUT = "reading-left-out", lazy("Reading left out")
        READING_COUNTED = "reading-counted", lazy("Reading counted again")
        PUT_ASIDE = "put-aside", lazy("Part set aside")
        PART_USED = "part-used", lazy("Part used")
        PART_PUT_BACK = "part-put-back", lazy("Part put back")
        OUTCOME = "outcome", lazy("Outcome")
        HINDSIGHT = "hindsight", lazy("At the bench")
        TO_LEARN = "to-learn", lazy("Kept as a lesson")
        NOT_TO_LEARN = "not-to-learn", lazy("No longer a lesson")
        PROMISED = "promised", lazy("Follow-up promised")
        FOLLOWED_UP = "followed-up", lazy("Done")
        FOLLOW_UP_UNDONE = "follow-up-undone", lazy("Not done after all")
        ASKED = "asked", lazy("Customer asked")
        NOT_WANTED = "not-wanted", lazy("No longer wanted")
        WANTED_AGAIN = "wanted-again", lazy("Wanted again")
        LETTER = "letter", lazy("E-mail sent")
        SHOWN = "shown-in-window", lazy("Put in the show window")
        TAKEN_OUT = "out-of-window", lazy("Taken out of the show window")
        UNREAD = "unread", lazy("Told in words only")

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
