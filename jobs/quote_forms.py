"""Forms of a quote: its lines, its sending, the customer's answer."""

from django import forms
from django.utils import timezone

from jobs.forms import DateInput, EditionMixin, not_ahead
from jobs.models import Order, Quote, QuoteLine, QuotePart, Shop
from jobs.money import part_price, work_price
from jobs.photos import PhotoError, read_photo


class QuoteForm(EditionMixin):
    """What holds for the whole quote."""

    class Meta:
        model = Quote
        fields = ("valid_until", "discount", "deposit", "tax_inclusive", "tax_by_line", "note")
        widgets = {"valid_until": DateInput(), "note": forms.Textarea(attrs={"rows": 3})}


class LineForm(forms.ModelForm):
    """One line; an empty one is left out. Without a price, minutes and cost give one by the shop's rates."""

    class Meta:
        model = QuoteLine
        fields = ("position", "kind", "text", "minutes", "cost", "price", "tax_rate", "optional")

    def __init__(self, *args, **kwargs):
        super().__init__(*args, **kwargs)
        if self.instance.pk is None:
            self.initial["tax_rate"] = Shop.current().tax_rate

    def clean(self):
        cleaned = super().clean()
        if cleaned.get("kind") == QuoteLine.Kind.ACCEPT and cleaned.get("price"):
            self.add_error("price", "What the customer accepts has no price; set it to 0, or make it work or a part.")
        if cleaned.get("price") is None and not self.errors:
            cleaned["price"] = _by_rates(cleaned)
        return cleaned


def _by_rates(line):
    shop = Shop.current()
    if line["kind"] == QuoteLine.Kind.WORK and line.get("minutes"):
        return work_price(line["minutes"], shop.hourly_rate, shop.currency)
    if line["kind"] == QuoteLine.Kind.PART and line.get("cost") is not None:
        return part_price(line["cost"], shop.mark_up, shop.currency)
    return None


LineFormSet = forms.inlineformset_factory(
    QuotePart, QuoteLine, form=LineForm, extra=1, can_delete=True, max_num=120, absolute_max=140, validate_max=True
)


class AnswerForm(forms.Form):
    """The customer's answer to exactly this version."""

    how = forms.ChoiceField(choices=Quote.How.choices, label="Said")
    said_by = forms.CharField(max_length=120, label="Said by")
    on = forms.DateField(widget=DateInput(), label="On", initial=timezone.localdate)
    note = forms.CharField(max_length=1000, required=False, widget=forms.Textarea(attrs={"rows": 2}))
    signature = forms.FileField(
        required=False, label="Picture of the signed paper", help_text="Kept with the job's photos."
    )
    although_expired = forms.BooleanField(required=False, label="Accepted although its date has passed")

    def clean_on(self):
        return not_ahead(self.cleaned_data["on"])

    def clean_signature(self):
        file = self.cleaned_data["signature"]
        try:
            return read_photo(file) if file else None
        except PhotoError as error:
            raise forms.ValidationError(str(error)) from error


class OrderForm(EditionMixin):
    """A part to be bought."""

    class Meta:
        model = Order
        fields = ("text", "supplier", "expected", "state")
        widgets = {"expected": DateInput()}
