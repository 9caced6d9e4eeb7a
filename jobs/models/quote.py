"""Quotes: what the customer is offered, version by version, and what was said to it."""

from decimal import Decimal

from django.conf import settings
from django.core.validators import MinValueValidator
from django.db import models
from django.db.models import Q
from django.utils.translation import gettext_lazy as lazy
from django.utils.translation import gettext_noop as _

from jobs.language.choices import LANGUAGES, PLAIN
from jobs.models.invoice import OfJobOrOrder, of_one
from jobs.models.shop import PERCENT


class Quote(models.Model):
    """One version of a job's quote. A draft may be changed; from its sending on it stays as it is.

    `language` is the one that its lines are written in.
    """

    class State(models.TextChoices):
        DRAFT = "draft", lazy("draft")
        SENT = "sent", lazy("sent")
        ACCEPTED = "accepted", lazy("accepted")
        REFUSED = "refused", lazy("declined")

    class How(models.TextChoices):
        EMAIL = "email", _("by e-mail")
        PHONE = "phone", _("by phone")
        PERSON = "person", _("in person")
        SIGNED = "signed", _("signed on paper")

    job = models.ForeignKey("jobs.Job", on_delete=models.CASCADE, related_name="quotes")
    version = models.PositiveSmallIntegerField()
    state = models.CharField(max_length=8, choices=State.choices, default=State.DRAFT)
    language = models.CharField(max_length=5, choices=LANGUAGES, default=PLAIN, editable=False)
    title = models.CharField(
        lazy("title for the watch"), max_length=160, blank=True, help_text=lazy("As the customer calls it.")
    )
    currency = models.CharField(max_length=3)
    tax_inclusive = models.BooleanField(lazy("prices include tax"))
    tax_by_line = models.BooleanField(lazy("round tax line by line"))
    discount = models.DecimalField(
        lazy("discount, %"), max_digits=5, decimal_places=2, default=Decimal(0), validators=PERCENT
    )
    deposit = models.DecimalField(
        lazy("deposit, %"), max_digits=5, decimal_places=2, default=Decimal(0), validators=PERCENT
    )
    valid_until = models.DateField(lazy("valid until"))
    note = models.TextField(lazy("to the customer"), max_length=2000, blank=True)
    made = models.DateTimeField(auto_now_add=True)
    sent = models.DateTimeField(null=True, blank=True, editable=False)
    decided_on = models.DateField(null=True, blank=True)
    decided_by = models.CharField(lazy("by whom"), max_length=120, blank=True)
    decided_how = models.CharField(lazy("how"), max_length=6, choices=How.choices, blank=True)
    decision_note = models.TextField(max_length=1000, blank=True)

    class Meta:
        ordering = ["-version"]
        constraints = [
            models.UniqueConstraint(fields=["job", "version"], name="one_quote_a_version"),
            models.UniqueConstraint(fields=["job"], condition=Q(state="accepted"), name="one_accepted_quote"),
        ]

    def __str__(self):
        return f"Quote {self.job.number}, version {self.version}"

    @property
    def watch(self):
        """The watch as the customer calls it."""
        return self.title or self.job.title

    @property
    def is_frozen(self):
        return self.state != self.State.DRAFT


class QuotePart(models.Model):
    """One of the ways quoted side by side: an option of the job with its lines.

    `composed` is what the title was composed of, null for one that was typed.
    """

    quote = models.ForeignKey(Quote, on_delete=models.CASCADE, related_name="parts")
    option = models.ForeignKey("jobs.Option", on_delete=models.SET_NULL, null=True, blank=True, related_name="+")
    title = models.CharField(lazy("in the customer's words"), max_length=160)
    composed = models.JSONField(null=True, blank=True, editable=False)
    position = models.PositiveSmallIntegerField(default=1)
    accepted = models.BooleanField(default=False, editable=False)

    class Meta:
        ordering = ["position", "pk"]

    def __str__(self):
        return self.title


class QuoteLine(models.Model):
    """One line. Work has minutes, a part its cost; what the customer must accept is told in words and has no price.

    `price` is null while nobody has set it. `from_check` is the key of the check whose remedy it is, `bought` the field
    of the pairing whose part it offers, `composed` what the text was composed of, null where it was typed.
    """

    class Kind(models.TextChoices):
        WORK = "work", lazy("work")
        PART = "part", lazy("part")
        ACCEPT = "accept", lazy("to accept")

    part = models.ForeignKey(QuotePart, on_delete=models.CASCADE, related_name="lines")
    position = models.PositiveSmallIntegerField(default=1)
    kind = models.CharField(max_length=6, choices=Kind.choices, default=Kind.WORK)
    text = models.CharField(max_length=400)
    composed = models.JSONField(null=True, blank=True, editable=False)
    minutes = models.PositiveSmallIntegerField(null=True, blank=True)
    cost = models.DecimalField(
        max_digits=9, decimal_places=2, null=True, blank=True, validators=[MinValueValidator(Decimal(0))]
    )
    price = models.DecimalField(
        max_digits=9, decimal_places=2, null=True, blank=True, validators=[MinValueValidator(Decimal(0))]
    )
    tax_rate = models.DecimalField(
        lazy("tax, %"), max_digits=5, decimal_places=2, default=Decimal(0), validators=PERCENT
    )
    optional = models.BooleanField(lazy("optional"), default=False)
    taken = models.BooleanField(lazy("chosen by the customer"), default=True, editable=False)
    from_check = models.CharField(max_length=40, blank=True, editable=False)
    bought = models.CharField(max_length=30, blank=True, editable=False)
    basis = models.CharField(max_length=160, blank=True, editable=False)

    class Meta:
        ordering = ["position", "pk"]

    def __str__(self):
        return self.text


class Order(models.Model):
    """A part to be bought for a job; one of the library by its `kind` and its key `part`."""

    class State(models.TextChoices):
        WANTED = "wanted", lazy("to order")
        ORDERED = "ordered", lazy("ordered")
        ARRIVED = "arrived", lazy("arrived")
        DROPPED = "dropped", lazy("not needed")

    OPEN = (State.WANTED, State.ORDERED)
    """The states in which a job waits for the part."""

    job = models.ForeignKey("jobs.Job", on_delete=models.CASCADE, related_name="orders")
    text = models.CharField(max_length=400)
    supplier = models.CharField(max_length=120, blank=True)
    expected = models.DateField(null=True, blank=True)
    state = models.CharField(max_length=8, choices=State.choices, default=State.WANTED)
    kind = models.CharField(max_length=20, blank=True, editable=False)
    part = models.PositiveBigIntegerField(null=True, editable=False)

    class Meta:
        ordering = ["state", "expected", "pk"]

    def __str__(self):
        return self.text


class StockUse(models.Model):
    """A part of the library that a job has put aside; used, it leaves the drawer's count."""

    class State(models.TextChoices):
        RESERVED = "reserved", lazy("set aside")
        USED = "used", lazy("used")
        RELEASED = "released", lazy("put back")

    job = models.ForeignKey("jobs.Job", on_delete=models.CASCADE, related_name="stock_uses")
    kind = models.CharField(max_length=20)
    part = models.PositiveBigIntegerField()
    name = models.CharField(max_length=160)
    state = models.CharField(max_length=8, choices=State.choices, default=State.RESERVED)
    by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+")
    at = models.DateTimeField(auto_now_add=True)

    class Meta:
        ordering = ["pk"]
        constraints = [
            models.UniqueConstraint(
                fields=["job", "kind", "part"], condition=Q(state="reserved"), name="one_reservation_a_part"
            ),
        ]

    def __str__(self):
        return f"{self.name}, {self.get_state_display()}"


class StockCount(models.Model):
    """A counted or corrected number of parts in a drawer, with the reason."""

    kind = models.CharField(max_length=20)
    part = models.PositiveBigIntegerField()
    before = models.PositiveIntegerField(null=True)
    after = models.PositiveIntegerField()
    reason = models.CharField(max_length=200)
    by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+")
    at = models.DateTimeField(auto_now_add=True)

    class Meta:
        ordering = ["-pk"]

    def __str__(self):
        return f"{self.before} → {self.after}: {self.reason}"


class PaperOut(OfJobOrOrder):
    """A paper that went out, kept as the file that went out, in the `language` that it was made in."""

    class Kind(models.TextChoices):
        RECEIPT = "receipt", lazy("intake receipt")
        LABEL = "label", lazy("tray label")
        QUOTE = "quote", lazy("quote")
        SHEET = "sheet", lazy("job sheet")
        MEASURING = "measure", lazy("measuring sheet")
        TEMPLATE = "template", lazy("dial-foot template")
        HANDOVER = "handover", lazy("handover note")
        INVOICE = "invoice", lazy("invoice")
        CREDIT = "credit", lazy("credit note")
        ELECTRONIC = "e-form", lazy("electronic invoice")

    MADE_BY_HAND = (Kind.RECEIPT, Kind.LABEL, Kind.SHEET, Kind.MEASURING, Kind.TEMPLATE, Kind.HANDOVER)
    """Those that a button on the job makes; the others come with what they are the paper of."""
    FOR_CUSTOMERS = (Kind.RECEIPT, Kind.LABEL, Kind.QUOTE, Kind.HANDOVER, Kind.INVOICE, Kind.CREDIT, Kind.ELECTRONIC)
    """Those that come in the customer's language; the others are for the bench."""
    BOOKS = (Kind.INVOICE, Kind.CREDIT, Kind.ELECTRONIC)
    """Those that belong to the shop's books, and stay whatever is erased."""

    job = models.ForeignKey("jobs.Job", on_delete=models.CASCADE, null=True, related_name="papers")
    holder_order = models.ForeignKey("jobs.HolderOrder", on_delete=models.CASCADE, null=True, related_name="papers")
    kind = models.CharField(max_length=8, choices=Kind.choices)
    quote = models.ForeignKey(Quote, on_delete=models.SET_NULL, null=True, blank=True, related_name="papers")
    invoice = models.ForeignKey("jobs.Invoice", on_delete=models.PROTECT, null=True, blank=True, related_name="papers")
    language = models.CharField(max_length=5, choices=LANGUAGES, default=PLAIN)
    file = models.FileField(upload_to="papers/")
    made = models.DateTimeField(auto_now_add=True)
    by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+")

    class Meta:
        ordering = ["-pk"]
        constraints = [of_one("paper_of_one")]

    def __str__(self):
        return f"{self.get_kind_display()} of {self.made:%Y-%m-%d}"

    @property
    def has_money(self):
        """A receipt names fee and value, a handover note the price, where its maker sees money."""
        return self.kind in (self.Kind.QUOTE, self.Kind.RECEIPT, self.Kind.HANDOVER, *self.BOOKS)
