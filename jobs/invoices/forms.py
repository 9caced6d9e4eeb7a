"""Forms of money: a payment, an invoice, a credit note."""

from __future__ import annotations

from datetime import timedelta
from decimal import Decimal
from typing import TYPE_CHECKING, Any

from django import forms
from django.utils import timezone
from django.utils.translation import gettext_lazy as lazy

from jobs.invoices.account import Account
from jobs.models import Invoice, InvoiceLine, Payment, Shop
from jobs.models.shop import country_known
from jobs.money.sums import coin, rounded
from jobs.shop.words import language_for
from parts.tools.dates import DateInput, not_ahead
from parts.tools.number_field import AmountField

if TYPE_CHECKING:
    from jobs.models import HolderOrder, Job


def whole_coins(amount: Decimal | None, currency: str) -> Decimal | None:
    """The amount; raises ValidationError where no coins make it up."""
    if amount is not None and amount != rounded(amount, currency):
        raise forms.ValidationError(
            lazy("{amount} cannot be paid: the smallest coin is {coin} {currency}.").format(
                amount=amount, coin=coin(currency), currency=currency
            )
        )
    return amount


class PaymentForm(forms.ModelForm):
    """Money received or paid back; begins with what is to be paid next."""

    amount = AmountField()

    class Meta:
        model = Payment
        fields = ("purpose", "amount", "on", "how", "note")
        widgets = {"on": DateInput()}

    def __init__(self, *args: Any, account: Account, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.currency = account.currency
        self.fields["amount"].required = True
        self.fields["amount"].help_text = f"in {account.currency}"
        self.initial.update(_next_payment(account), on=timezone.localdate())

    def clean_amount(self):
        amount = self.cleaned_data["amount"]
        if not amount:
            raise forms.ValidationError(lazy("0 is no payment. Enter the amount that changed hands."))
        return whole_coins(amount, self.currency)

    def clean_on(self):
        return not_ahead(self.cleaned_data["on"])


def _next_payment(account):
    """Purpose and amount of the payment to expect; no amount where none is."""
    if account.deposit_owed:
        return {"purpose": Payment.Purpose.DEPOSIT, "amount": account.deposit_owed}
    if account.too_much:
        return {"purpose": Payment.Purpose.REFUND, "amount": account.too_much}
    return {"purpose": Payment.Purpose.BALANCE, "amount": account.owed or None}


class InvoiceForm(forms.ModelForm):
    """Who the invoice is made out to, and its dates."""

    class Meta:
        model = Invoice
        fields = ("buyer_name", "buyer_address", "buyer_country", "language", "supplied", "due_on")
        labels = {"buyer_name": "Made out to", "buyer_address": "Address", "buyer_country": "Country", "language": "In"}
        help_texts = {
            "buyer_country": "Two letters, such as IE. Without it there is no electronic invoice, only the PDF.",
            "supplied": "The day the work was finished or handed over.",
        }
        widgets = {
            "buyer_address": forms.Textarea(attrs={"rows": 3}),
            "supplied": DateInput(),
            "due_on": DateInput(),
        }

    def __init__(self, *args: Any, of: Job | HolderOrder, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        shop, today = Shop.current(), timezone.localdate()
        self.fields["due_on"].required = True
        self.fields["language"].required = False
        self.initial.update(
            buyer_name=of.customer.name,
            buyer_address=of.customer.address,
            buyer_country=shop.country,
            language=language_for(of.customer, shop),
            supplied=today,
            due_on=today + timedelta(days=shop.payment_days),
        )

    def clean_buyer_country(self):
        country = self.cleaned_data["buyer_country"].upper()
        if country:
            country_known(country)
        return country

    def clean_supplied(self):
        return not_ahead(self.cleaned_data["supplied"])

    def clean_due_on(self):
        due = self.cleaned_data["due_on"]
        if due < timezone.localdate():
            raise forms.ValidationError(
                lazy("{due:%-d %b %Y} has passed: the invoice would be overdue at once. Set a later day.").format(
                    due=due
                )
            )
        return due


class OrderInvoiceForm(InvoiceForm):
    """The same of a holder order, with its tax and what the parcel costs."""

    tax_rate = forms.DecimalField(
        max_digits=5,
        decimal_places=2,
        min_value=0,
        max_value=100,
        label=lazy("Tax, %"),
        help_text=lazy("The shop's own; another where the pieces go abroad."),
    )
    postage = AmountField(help_text=lazy("A line of its own; leave it blank for none."))

    def __init__(self, *args: Any, of: HolderOrder, **kwargs: Any) -> None:
        super().__init__(*args, of=of, **kwargs)
        shop = Shop.current()
        self.fields["supplied"].help_text = "The day the pieces are sent."
        self.fields["postage"].unit = self.currency = shop.currency
        self.initial.update(tax_rate=shop.tax_rate, supplied=of.sent_on or timezone.localdate())

    def clean_postage(self):
        return whole_coins(self.cleaned_data["postage"], self.currency)


class LinesField(forms.ModelMultipleChoiceField):
    """Ticked lines; a key too large for any database is as unknown as another one that is not there."""

    def _check_values(self, value):
        try:
            return super()._check_values(value)
        except OverflowError as error:
            raise forms.ValidationError(lazy("Tick the lines of this invoice.")) from error


class CreditForm(forms.Form):
    """Which lines of an invoice are taken back, and why."""

    lines = LinesField(
        InvoiceLine.objects.none(),
        widget=forms.CheckboxSelectMultiple,
        label=lazy("Lines to credit"),
        error_messages={"required": "Tick the lines to credit."},
    )
    reason = forms.CharField(max_length=300, label=lazy("Reason"), help_text=lazy("Printed on the credit note."))

    def __init__(self, *args: Any, invoice: Invoice, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        left = invoice.lines.filter(taken_back_by=None)
        self.fields["lines"].queryset = left
        self.initial["lines"] = [line.pk for line in left]
