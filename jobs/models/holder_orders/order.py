"""Holder rings and spacers that others order: what is to be made, and what the pieces measured."""

from __future__ import annotations

from decimal import Decimal

from django.conf import settings
from django.core.validators import MaxValueValidator, MinValueValidator
from django.db import models
from django.urls import reverse
from django.utils import timezone
from django.utils.translation import gettext_lazy as lazy


class HolderOrder(models.Model):
    """So many pieces of one revision for a customer, without a watch.

    `state` follows from the days `made_on`, `checked_on` and `sent_on` unless it is cancelled. `before` is what the
    revision said of itself before this order's feedback.
    """

    class State(models.TextChoices):
        MAKE = "make", lazy("to make")
        CHECK = "check", lazy("to check")
        SEND = "send", lazy("to send")
        SENT = "sent", lazy("sent")
        CANCELLED = "cancelled", lazy("cancelled")

    class Feedback(models.TextChoices):
        """How the customer says it fitted; the codes are those of the revision's result."""

        FITS = "fits", lazy("fitted")
        TIGHT = "tight", lazy("tight")
        LOOSE = "loose", lazy("loose")

    OPEN = (State.MAKE, State.CHECK, State.SEND)

    customer = models.ForeignKey(
        "jobs.Customer", on_delete=models.PROTECT, related_name="holder_orders", editable=False
    )
    design = models.ForeignKey("parts.HolderDesign", on_delete=models.PROTECT, related_name="holder_orders")
    material = models.CharField(max_length=60)
    colour = models.CharField(max_length=40, blank=True)
    count = models.PositiveSmallIntegerField(
        lazy("how many"), default=1, validators=[MinValueValidator(1), MaxValueValidator(999)]
    )
    price_each = models.DecimalField(lazy("price each"), max_digits=9, decimal_places=2, null=True, blank=True)
    wanted_by = models.DateField(lazy("wanted by"), null=True, blank=True)
    remark = models.TextField(max_length=1000, blank=True)
    state = models.CharField(max_length=9, choices=State.choices, default=State.MAKE, editable=False)
    ordered_on = models.DateField(default=timezone.localdate, editable=False)
    made_on = models.DateField(null=True, editable=False)
    checked_on = models.DateField(null=True, editable=False)
    sent_on = models.DateField(null=True, editable=False)
    by_hand = models.BooleanField(lazy("collected by hand"), default=False, editable=False)
    reason = models.CharField(lazy("why it is cancelled"), max_length=200, blank=True, editable=False)
    feedback = models.CharField(lazy("how it fitted"), max_length=5, choices=Feedback.choices, blank=True)
    feedback_words = models.CharField(lazy("in their words"), max_length=300, blank=True)
    before = models.JSONField(null=True, editable=False)
    changed = models.DateTimeField(auto_now=True)
    by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+", editable=False)

    class Meta:
        ordering = [models.F("wanted_by").asc(nulls_last=True), "pk"]

    def __str__(self):
        return f"Holder order {self.pk}"

    def get_absolute_url(self):
        return reverse("jobs:holder-order", args=[self.pk])

    OWNER = "holder_order"
    """The field by which payments, invoices and papers belong to it."""

    def address(self, name, *keys):
        """The address of something of this order, such as ("invoice", 3); a job has those of the same names."""
        return reverse(f"jobs:holder-order-{name}", args=[self.pk, *keys])

    @property
    def is_open(self):
        """Whether something is still to be done before the pieces are with the customer."""
        return self.state in self.OPEN

    @property
    def pieces_word(self):
        """What is ordered, such as "3 holder rings"."""
        return f"{self.count} {self.design.get_kind_display()}{'' if self.count == 1 else 's'}"

    @property
    def price(self) -> Decimal | None:
        """The price of all pieces; None while a piece has none."""
        return None if self.price_each is None else self.price_each * self.count

    def settle_state(self):
        """Set the state by what is done already; not saved."""
        days = (self.made_on, self.checked_on, self.sent_on)
        self.state = (*self.OPEN, self.State.SENT)[next((i for i, day in enumerate(days) if day is None), len(days))]


class HolderPiece(models.Model):
    """One piece of an order as it measured: `sizes` maps names of the drawing's dimensions to mm."""

    order = models.ForeignKey(HolderOrder, on_delete=models.CASCADE, related_name="pieces")
    sizes = models.JSONField()
    is_left_out = models.BooleanField(default=False)
    at = models.DateTimeField(auto_now_add=True)
    by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+")

    class Meta:
        ordering = ["pk"]

    def __str__(self):
        return f"piece of {self.order}"
