"""Forms of a quote: its lines, its sending, the customer's answer."""

from typing import Any

from django import forms
from django.core.validators import MaxValueValidator
from django.db import transaction
from django.utils import timezone
from django.utils.translation import gettext_lazy as lazy

from jobs.history import changed
from jobs.models import Order, Quote, QuoteLine, QuotePart, Shop
from jobs.money.sums import MOST_MONEY, coin, part_price, rounded, work_price
from jobs.quotes.ways import way_of
from parts.tools.dates import DateInput, not_ahead
from parts.tools.number_field import PercentField
from parts.tools.pictures import PhotoError, kept_photo
from parts.tools.stale_guard import StaleGuard, refuse_stale, stamp_of

MOST_MINUTES = 10_000
MOST_PLACES = 1_000


class QuoteForm(forms.ModelForm):
    """What holds for the whole quote."""

    class Meta:
        model = Quote
        fields = ("title", "valid_until", "discount", "deposit", "tax_inclusive", "tax_by_line", "note")
        field_classes = {"discount": PercentField, "deposit": PercentField}
        widgets = {"valid_until": DateInput(), "note": forms.Textarea(attrs={"rows": 3})}

    def clean_valid_until(self):
        day = self.cleaned_data["valid_until"]
        if day < timezone.localdate():
            raise forms.ValidationError(
                lazy(
                    "{day:%-d %b %Y} is in the past, and a quote must be valid when it is sent. Choose today or later."
                ).format(day=day)
            )
        return day


class PartForm(forms.ModelForm):
    """What an option is called on the quote."""

    class Meta:
        model = QuotePart
        fields = ("title",)


class LineForm(forms.ModelForm):
    """One line; an empty one is left out. Without a price, minutes and cost give one by the shop's rates."""

    class Meta:
        model = QuoteLine
        fields = ("position", "kind", "text", "minutes", "cost", "price", "tax_rate", "optional")
        field_classes = {"tax_rate": PercentField}

    def __init__(self, *args: Any, currency: str, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.currency = currency
        for name, most in (("position", MOST_PLACES), ("minutes", MOST_MINUTES)):
            self.fields[name].validators.append(MaxValueValidator(most))
        if self.instance.pk is None:
            self.initial["tax_rate"] = Shop.current().tax_rate

    def clean_price(self):
        price = self.cleaned_data["price"]
        if price is not None and price != rounded(price, self.currency):
            least = coin(self.currency)
            raise forms.ValidationError(
                lazy("{price} cannot be paid: the smallest coin is {least} {currency}.").format(
                    currency=self.currency, price=price, least=least
                )
            )
        return price

    def clean(self):
        cleaned = super().clean()
        if cleaned.get("kind") == QuoteLine.Kind.ACCEPT and cleaned.get("price"):
            self.add_error("price", lazy("Points to accept carry no price. Set it to 0, or change the type."))
        if cleaned.get("price") is None and not self.errors:
            cleaned["price"] = _by_rates(cleaned, self.currency)
            if (cleaned["price"] or 0) > MOST_MONEY:
                self.add_error(
                    "price",
                    lazy("Your rates give {price}; the limit is {limit}. Type a price.").format(
                        price=cleaned["price"], limit=MOST_MONEY
                    ),
                )
        return cleaned


def _by_rates(line, currency):
    shop = Shop.current()
    if line["kind"] == QuoteLine.Kind.WORK and line.get("minutes"):
        return work_price(line["minutes"], shop.hourly_rate, currency)
    if line["kind"] == QuoteLine.Kind.PART and line.get("cost") is not None:
        return part_price(line["cost"], shop.mark_up, currency)
    return None


LineFormSet = forms.inlineformset_factory(
    QuotePart, QuoteLine, form=LineForm, extra=1, can_delete=True, max_num=120, absolute_max=140, validate_max=True
)


class DraftEditor:
    """The forms of one draft: what holds for the whole quote, and the lines of each option; judged and saved together.

    `stamp` is the stamp of what is saved now.
    """

    def __init__(self, *, quote: Quote, data: Any = None) -> None:
        self.quote = quote
        self.form = QuoteForm(data, instance=quote)
        self.parts = list(quote.parts.all())
        self.part_forms = [PartForm(data, instance=part, prefix=f"option{part.pk}") for part in self.parts]
        self.line_sets = [
            LineFormSet(data, instance=part, prefix=f"part{part.pk}", form_kwargs={"currency": quote.currency})
            for part in self.parts
        ]
        for lines in self.line_sets:
            for line in lines.extra_forms:
                line.initial["position"] = lines.initial_form_count() + 1
        self.stamp: str = stamp_of(*self._saved_forms()) if data is None else DraftEditor(quote=quote).stamp

    @property
    def sets(self):
        """(quoted option, its own form, its lines) as the page shows them."""
        return list(zip(self.parts, self.part_forms, self.line_sets, strict=True))

    @property
    def ways(self):
        """Every option as it is typed now, wrong lines left out; judge with `is_valid` first."""
        return [
            way_of(quote=self.quote, part=part, lines=[line.instance for line in lines if _counts(line)])
            for part, lines in zip(self.parts, self.line_sets, strict=True)
        ]

    @property
    def wrong(self):
        """How many lines have something to correct."""
        return sum(bool(line.errors) for lines in self.line_sets for line in lines) if self.form.is_bound else 0

    def is_valid(self):
        """Judge everything that was typed; False puts every fault on its field."""
        own = [form.is_valid() for form in (self.form, *self.part_forms)]
        sound = all([*own, *(lines.is_valid() for lines in self.line_sets)])
        stale = refuse_stale(self.form, self.stamp, self._saved_forms())
        return sound and not stale

    @transaction.atomic
    def save(self):
        """Save the draft with its lines."""
        self.form.save()
        for form in self.part_forms:
            form.save()
        for lines in self.line_sets:
            lines.save()
        changed(job=self.quote.job)

    def _saved_forms(self):
        return [self.form, *self.part_forms, *(line for lines in self.line_sets for line in lines.initial_forms)]


def _counts(line):
    """Whether a line of the form holds something sound that is not to be deleted."""
    is_there = line.instance.pk is not None or line.has_changed()
    return is_there and not line.errors and not line.cleaned_data.get("DELETE")


class AnswerForm(forms.Form):
    """The customer's answer to exactly this version."""

    how = forms.ChoiceField(choices=Quote.How.choices, label=lazy("How"))
    said_by = forms.CharField(max_length=120, label=lazy("By whom"))
    on = forms.DateField(widget=DateInput(), label=lazy("Date"), initial=timezone.localdate)
    note = forms.CharField(max_length=1000, required=False, widget=forms.Textarea(attrs={"rows": 2}))
    signature = forms.FileField(
        required=False, label=lazy("Picture of the signed paper"), help_text=lazy("Saved with the job's photos.")
    )
    part = forms.ModelChoiceField(
        QuotePart.objects.none(),
        required=False,
        error_messages={"invalid_choice": "That option is not in this version. Choose one of those above."},
    )
    although_expired = forms.BooleanField(
        required=False,
        label=lazy("Accept although it has expired"),
        help_text=lazy("Only for an answer after the last day."),
    )

    def __init__(self, *args: Any, ways: Any = (), accepting: bool = False, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.ways, self.accepting = ways, accepting
        if all(way.quote.valid_until >= timezone.localdate() for way in ways):
            del self.fields["although_expired"]
        self.fields["part"].queryset = QuotePart.objects.filter(pk__in=[way.pk for way in ways])

    def clean_part(self):
        if self.accepting and self.cleaned_data["part"] is None and len(self.ways) != 1:
            raise forms.ValidationError(lazy("Choose the option that was accepted."))
        return self.cleaned_data["part"] or next(iter(self.ways), None)

    def clean_on(self):
        return not_ahead(self.cleaned_data["on"])

    def clean_signature(self):
        file = self.cleaned_data["signature"]
        try:
            return kept_photo(file) if file else None
        except PhotoError as error:
            raise forms.ValidationError(str(error)) from error


class OrderForm(StaleGuard, forms.ModelForm):
    """A part to be bought."""

    class Meta:
        model = Order
        fields = ("text", "supplier", "expected", "state")
        labels = {"text": "Part"}
        widgets = {"expected": DateInput()}
