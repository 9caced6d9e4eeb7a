"""Forms of holder orders: the order, a measured piece, how it fitted, why it is cancelled, the price list."""

from __future__ import annotations

from typing import Any

from django import forms
from django.db.models import Q
from django.utils.translation import gettext_lazy as lazy

from jobs.holder_orders.measuring import drawn_sizes
from jobs.holder_orders.prices import proposed_price
from jobs.intake.who import WhoForm
from jobs.models import HolderOrder, HolderPrice, Invoice, Shop
from parts.holder.parameters.to_measure import Size
from parts.models import HolderDesign
from parts.tools.dates import DateInput, not_past
from parts.tools.number_field import AmountField, NumberField
from parts.tools.stale_guard import StaleGuard

WHAT = ("design", "count", "material", "colour", "wanted_by", "remark", "price_each", "priceless")


def known_materials() -> list[str]:
    """Materials of the price list and of earlier orders."""
    listed = HolderPrice.objects.exclude(material="").values_list("material", flat=True)
    return sorted({*listed, *HolderOrder.objects.values_list("material", flat=True)})


class _What:
    """What is ordered, the same in a new order and in one that is changed."""

    def _prepare(self, sees_money):
        design = self.fields["design"]
        offered = Q(archived=False) | Q(pk=self.instance.design_id)
        design.queryset = HolderDesign.objects.filter(offered).select_related("family", "movement")
        design.label, design.empty_label = "Holder or spacer", "choose one"
        self.fields["material"].widget.attrs["list"] = "known-materials"
        if sees_money:
            price = AmountField(label=lazy("Price each"), help_text=lazy("Leave blank for the list price."))
            price.unit = Shop.current().currency
            self.fields["price_each"] = price
            self.fields["priceless"] = forms.BooleanField(required=False, label=lazy("Save it without a price for now"))
        else:
            del self.fields["price_each"]

    def _ask_for_a_price(self, cleaned):
        """Ask for a price where none is typed and the list has none, unless it is said to come later."""
        if "price_each" not in self.fields or self.errors or cleaned["price_each"] is not None or cleaned["priceless"]:
            return
        design, material = cleaned.get("design") or self.instance.design, cleaned["material"]
        if proposed_price(design=design, material=material) is None:
            self.add_error(
                "price_each",
                lazy(
                    "The price list has no price for “{material}” made by “{design.process}”. Type what one piece "
                    "costs, or tick that it comes later."
                ).format(material=material, design=design),
            )

    @property
    def what(self):
        """The fields of what is ordered; that the price comes later is asked once it is missing."""
        asks = "price_each" in self.errors or self["priceless"].value() if "priceless" in self.fields else False
        return [self[name] for name in WHAT if name in self.fields and (name != "priceless" or asks)]

    @property
    def known_materials(self):
        return known_materials()


class _WhatMeta:
    model = HolderOrder
    fields = WHAT[:-1]
    widgets = {"wanted_by": DateInput(), "remark": forms.Textarea({"rows": 2})}


class NewOrderForm(_What, WhoForm):
    """A new order: who, and what."""

    class Meta(_WhatMeta):
        pass

    def __init__(self, *args: Any, sees_money: bool, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        del self.fields["family"]
        self._prepare(sees_money)

    def clean_wanted_by(self):
        return not_past(self.cleaned_data["wanted_by"])

    def clean(self):
        cleaned = super().clean()
        self._ask_for_a_price(cleaned)
        return cleaned


class OrderForm(_What, StaleGuard, forms.ModelForm):
    """What is ordered, changed later; the revision only until the pieces are made, what is invoiced not any more."""

    class Meta(_WhatMeta):
        pass

    def __init__(self, *args: Any, sees_money: bool, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.invoice = Invoice.standing(self.instance)
        self._prepare(sees_money)
        invoiced = ("design", "count", "material", "colour", "price_each")
        for name in invoiced if self.invoice else ("design",) if self.instance.made_on else ():
            self.fields.pop(name, None)

    def clean(self):
        cleaned = super().clean()
        self._ask_for_a_price(cleaned)
        return cleaned


class SizeField(NumberField):
    """A measured size, mm, beside what is drawn; one that is a tenth off is taken for a slip."""

    def __init__(self, size: Size) -> None:
        self.size = size
        super().__init__(
            lowest=0.01,
            highest=200.0,
            unit="mm",
            required=False,
            label=size.label.capitalize(),
            help_text=lazy("drawn {size.drawn:.2f} mm; right from {size.least:.2f} to {size.most:.2f} mm").format(
                size=size
            ),
        )

    def validate(self, value):
        super().validate(value)
        drawn = self.size.drawn
        if value is not None and abs(value - drawn) > max(1.0, drawn / 10):
            raise forms.ValidationError(
                lazy("{value:g} mm is more than a tenth off {drawn:.2f} mm: is it the same part?").format(
                    value=value, drawn=drawn
                )
            )


class PieceForm(forms.Form):
    """What one piece measured; cleans `sizes` from it."""

    def __init__(self, *args: Any, order: HolderOrder, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.fields |= {size.name: SizeField(size) for size in drawn_sizes(order)}

    def clean(self):
        cleaned = super().clean()
        self.sizes = {name: value for name, value in cleaned.items() if value is not None}
        if not (self.sizes or self.errors):
            raise forms.ValidationError(lazy("Nothing is measured yet. Enter at least one size."))
        return cleaned


class AddressForm(forms.Form):
    """Where the pieces go, for a customer without an address."""

    address = forms.CharField(
        max_length=500,
        widget=forms.Textarea({"rows": 3}),
        error_messages={"required": "Type the address, or say that they are collected by hand."},
    )


class FeedbackForm(forms.ModelForm):
    """How the pieces fitted, as the customer says."""

    feedback = forms.ChoiceField(
        choices=HolderOrder.Feedback.choices,
        widget=forms.RadioSelect,
        error_messages={"required": "Choose how it fitted."},
    )

    class Meta:
        model = HolderOrder
        fields = ("feedback", "feedback_words")


class CancelForm(forms.Form):
    """Why an order is cancelled."""

    reason = forms.CharField(
        max_length=200,
        label=lazy("Why"),
        help_text=lazy("Such as: no longer wanted, cannot be made."),
        error_messages={"required": "Say why, in a word or two."},
    )


class PriceForm(forms.ModelForm):
    """A line of the price list."""

    per_piece = AmountField(label=lazy("Each piece"))
    per_cm3 = AmountField(label=lazy("Each cm³"))

    class Meta:
        model = HolderPrice
        fields = ("process", "material", "per_piece", "per_cm3")


class BasePriceList(forms.BaseModelFormSet):
    """The lines of the price list, a material once in each process."""

    def clean(self):
        super().clean()
        seen = set()
        for form in self.forms:
            if form.errors or not (form.has_changed() or form.instance.pk):
                continue
            key = (form.cleaned_data["process"], form.cleaned_data["material"].casefold())
            if key in seen:
                form.add_error("material", lazy("This process and material have a line already. Change that one."))
            seen.add(key)


PriceList = forms.modelformset_factory(HolderPrice, form=PriceForm, formset=BasePriceList, extra=1)
