"""Money that changes hands: payments, and invoices with their credit notes, which stay as they were issued."""

from __future__ import annotations

from decimal import Decimal
from typing import TYPE_CHECKING

from django.conf import settings
from django.core.validators import MinValueValidator
from django.db import models
from django.db.models import Q
from django.utils.translation import gettext_lazy as lazy

from jobs.language.choices import LANGUAGES, PLAIN

if TYPE_CHECKING:
    from jobs.models.holder_orders.order import HolderOrder
    from jobs.models.job import Job


def of_one(name: str) -> models.CheckConstraint:
    """The constraint that a record belongs to a job or to a holder order, to exactly one of them."""
    of_job, of_order = Q(job__isnull=False, holder_order=None), Q(job=None, holder_order__isnull=False)
    return models.CheckConstraint(condition=of_job | of_order, name=name)


class OfJobOrOrder(models.Model):
    """A record with a `job` or a `holder_order`: what it belongs to names that field as its OWNER."""

    class Meta:
        abstract = True

    @property
    def of(self) -> Job | HolderOrder:
        """What it belongs to."""
        return self.job or self.holder_order  # type: ignore[attr-defined]


class Payment(OfJobOrOrder):
    """Money received for a job or a holder order, or paid back; undone, it stays on record."""

    class How(models.TextChoices):
        CASH = "cash", lazy("in cash")
        CARD = "card", lazy("by card")
        TRANSFER = "transfer", lazy("by bank transfer")
        OTHER = "other", lazy("another way")

    class Purpose(models.TextChoices):
        DEPOSIT = "deposit", lazy("deposit")
        BALANCE = "balance", lazy("balance")
        OTHER = "other", lazy("other payment")
        REFUND = "refund", lazy("paid back to the customer")

    job = models.ForeignKey("jobs.Job", on_delete=models.CASCADE, null=True, related_name="payments")
    holder_order = models.ForeignKey("jobs.HolderOrder", on_delete=models.CASCADE, null=True, related_name="payments")
    on = models.DateField(lazy("date"))
    amount = models.DecimalField(max_digits=9, decimal_places=2, validators=[MinValueValidator(Decimal("0.01"))])
    currency = models.CharField(max_length=3)
    how = models.CharField(lazy("how paid"), max_length=8, choices=How.choices)
    purpose = models.CharField(lazy("what for"), max_length=7, choices=Purpose.choices)
    note = models.CharField(max_length=200, blank=True)
    by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+")
    at = models.DateTimeField(auto_now_add=True)
    undone = models.BooleanField(default=False, editable=False)

    class Meta:
        ordering = ["on", "pk"]
        constraints = [of_one("payment_of_one")]

    def __str__(self):
        return f"{self.get_purpose_display()} of {self.on:%-d %b %Y}"

    @property
    def received(self) -> Decimal:
        """What it adds to the money received: below 0 for what was paid back."""
        return -self.amount if self.purpose == self.Purpose.REFUND else self.amount


class InvoiceSeries(models.Model):
    """The last number given out in a series; its row is locked while the next one is taken."""

    prefix = models.CharField(max_length=24, unique=True)
    last = models.PositiveIntegerField()

    def __str__(self):
        return f"{self.prefix}{self.last}"


class Unchangeable(Exception):
    """An issued invoice stays as it is; a credit note corrects it."""


class Issued(models.Model):
    """A record that is written once, with its invoice, and then neither changed nor deleted."""

    class Meta:
        abstract = True

    def save(self, *args, **kwargs):
        if not self._state.adding:
            raise Unchangeable(f"{self} is issued. Correct it with a credit note.")
        super().save(*args, **kwargs)

    def delete(self, *args, **kwargs):  # noqa: ARG002 - Django's signature
        raise Unchangeable(f"{self} is issued. Correct it with a credit note.")


class Invoice(OfJobOrOrder, Issued):
    """An invoice, or a credit note that `corrects` one; what it says is kept in it, whatever becomes of the customer.

    One of a job is made of its accepted `quote` and names its `watch`; one of a holder order has neither.
    Amounts of a credit note are positive. `lines_net` is the sum of the lines without tax, `discount_net` what goes off
    it, `net` what is left; `prepaid` is what had been received by then, `due` is `total` less that.
    """

    class Kind(models.TextChoices):
        INVOICE = "invoice", lazy("invoice")
        CREDIT = "credit", lazy("credit note")

    job = models.ForeignKey("jobs.Job", on_delete=models.PROTECT, null=True, related_name="invoices")
    holder_order = models.ForeignKey("jobs.HolderOrder", on_delete=models.PROTECT, null=True, related_name="invoices")
    quote = models.ForeignKey("jobs.Quote", on_delete=models.PROTECT, null=True, related_name="invoices")
    corrects = models.ForeignKey("self", on_delete=models.PROTECT, null=True, blank=True, related_name="credits")
    kind = models.CharField(max_length=7, choices=Kind.choices, default=Kind.INVOICE)
    language = models.CharField(max_length=5, choices=LANGUAGES, default=PLAIN)
    number = models.CharField(max_length=40, unique=True)
    issued = models.DateField()
    supplied = models.DateField(lazy("date of supply"))
    due_on = models.DateField(lazy("due date"), null=True)
    reason = models.CharField(max_length=300, blank=True)
    watch = models.CharField(max_length=200, blank=True)
    seller_name = models.CharField(max_length=120)
    seller_address = models.TextField(max_length=500)
    seller_country = models.CharField(max_length=2, blank=True)
    seller_tax_number = models.CharField(max_length=60, blank=True)
    buyer_name = models.CharField(max_length=200)
    buyer_address = models.TextField(max_length=500, blank=True)
    buyer_country = models.CharField(max_length=2, blank=True)
    currency = models.CharField(max_length=3)
    tax_inclusive = models.BooleanField()
    discount = models.DecimalField(lazy("discount, %"), max_digits=5, decimal_places=2)
    lines_net = models.DecimalField(max_digits=12, decimal_places=2)
    discount_net = models.DecimalField(max_digits=12, decimal_places=2)
    net = models.DecimalField(max_digits=12, decimal_places=2)
    tax = models.DecimalField(max_digits=12, decimal_places=2)
    total = models.DecimalField(max_digits=12, decimal_places=2)
    prepaid = models.DecimalField(max_digits=12, decimal_places=2, default=Decimal(0))
    due = models.DecimalField(max_digits=12, decimal_places=2)
    how_to_pay = models.TextField(max_length=1000, blank=True)
    no_tax_reason = models.CharField(max_length=200, blank=True)
    at = models.DateTimeField(auto_now_add=True)
    by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+")

    class Meta:
        ordering = ["pk"]
        constraints = [
            of_one("invoice_of_one"),
            models.CheckConstraint(
                condition=Q(job=None, quote=None) | Q(job__isnull=False, quote__isnull=False),
                name="invoice_of_job_by_quote",
            ),
            models.CheckConstraint(
                condition=Q(kind="invoice", corrects=None) | Q(kind="credit", corrects__isnull=False),
                name="credit_notes_correct_an_invoice",
            ),
        ]

    def __str__(self):
        return f"{self.get_kind_display().capitalize()} {self.number}"

    def get_absolute_url(self):
        return self.of.address("invoice", self.pk)

    @classmethod
    def standing(cls, of: Job | HolderOrder) -> Invoice | None:
        """The invoice of a job or an order of which a line is not credited; None where there is none."""
        return cls.objects.filter(lines__in=InvoiceLine.open_of(of)).first()

    @property
    def signed_total(self) -> Decimal:
        """What it adds to what the customer has to pay: below 0 for a credit note."""
        return -self.total if self.kind == self.Kind.CREDIT else self.total


class InvoiceLine(Issued):
    """One line of `quantity` pieces: `price` of all as it was agreed, `net` without tax.

    A credit note's line takes one of its invoice back.
    """

    invoice = models.ForeignKey(Invoice, on_delete=models.PROTECT, related_name="lines")
    takes_back = models.OneToOneField(
        "self", on_delete=models.PROTECT, null=True, blank=True, related_name="taken_back_by"
    )
    position = models.PositiveSmallIntegerField()
    text = models.CharField(max_length=400)
    quantity = models.PositiveSmallIntegerField(default=1)
    price = models.DecimalField(max_digits=9, decimal_places=2)
    net = models.DecimalField(max_digits=9, decimal_places=2)
    tax_rate = models.DecimalField(lazy("tax, %"), max_digits=5, decimal_places=2)

    class Meta:
        ordering = ["position", "pk"]

    def __str__(self):
        return self.text if self.quantity == 1 else f"{self.quantity} × {self.text}"

    @property
    def price_each(self) -> Decimal:
        """What one piece costs."""
        return self.price / self.quantity

    @classmethod
    def open_of(cls, of: Job | HolderOrder) -> models.QuerySet[InvoiceLine]:
        """The lines of the invoices of a job or an order that no credit note takes back."""
        return cls.objects.filter(invoice__in=of.invoices.all(), invoice__kind=Invoice.Kind.INVOICE, taken_back_by=None)


class InvoiceTax(Issued):
    """One tax rate of an invoice: `net` is what it is reckoned on, after a discount of `discount_net`."""

    invoice = models.ForeignKey(Invoice, on_delete=models.PROTECT, related_name="taxes")
    rate = models.DecimalField(lazy("tax, %"), max_digits=5, decimal_places=2)
    discount_net = models.DecimalField(max_digits=12, decimal_places=2)
    net = models.DecimalField(max_digits=12, decimal_places=2)
    tax = models.DecimalField(max_digits=12, decimal_places=2)

    class Meta:
        ordering = ["rate"]

    def __str__(self):
        return f"{self.rate} %"
