"""Forms of the shop page."""

from functools import cached_property
from typing import Any, NamedTuple, cast

from django import forms
from django.core.files.base import ContentFile
from django.core.validators import MaxValueValidator
from django.utils.html import escape
from django.utils.translation import gettext_lazy as lazy

from jobs.language.choices import PLAIN, language_name, settled
from jobs.models import Shop
from jobs.models.shop import has_place_for_text
from jobs.shop.words import (
    LETTERS,
    TEXTS,
    TEXTS_TO_COPY,
    WORDS,
    begun_with,
    change_own_language,
    is_standard,
    standing_in,
)
from parts.dimensions.text import format_dimension
from parts.fit import SheetError
from parts.fit.rules import RULES
from parts.pairings.worksheet import rule_value, rule_words
from parts.rules.groups import GROUPS, Group
from parts.rules.shop import set_shop_rules, shop_rules
from parts.tools.number_field import NumberField, PercentField
from parts.tools.pictures import PhotoError, encoded, read_photo
from parts.tools.stale_guard import StaleGuard

LETTERHEAD = ("name", "address", "country", "tax_number", "paper", "label", "language")
LOGO_PIXELS = 900
MOST_VALID_DAYS = 3650
MONEY = ("currency", "hourly_rate", "mark_up", "tax_rate", "tax_inclusive", "tax_by_line", "deposit", "valid_days")
INVOICES = ("invoice_prefix", "invoice_start", "credit_prefix", "payment_days", "how_to_pay", "no_tax_reason")
PHOTOS = ("keep_originals",)
TIMING = ("tap_s", "wrist_c")
WARRANTY = ("warranty_months",)
_LONG = (*TEXTS, *TEXTS_TO_COPY, *LETTERS)
_SHORT = ("name", "no_tax_reason")
"""Words of one line."""
_BESIDE = {
    "hourly_rate": ("Rate per hour", ""),
    "mark_up": ("Mark-up on parts", "%"),
    "tax_rate": ("Tax", "%"),
    "deposit": ("Deposit", "%"),
    "valid_days": ("Quotes are valid for", "days"),
    "payment_days": ("Invoices are due after", "days"),
    "warranty_months": ("Warranty", "months"),
    "tap_s": ("Tap uncertainty", "s"),
    "wrist_c": ("Temperature at the wrist", "°C"),
}
"""Fields with a unit: the label without it, and the unit beside the field."""


class ShopForm(StaleGuard, forms.ModelForm):
    """Letterhead, money and the shop's own texts. What is typed is printed as it is, never run."""

    new_logo = forms.FileField(
        required=False, label=lazy("Logo"), help_text=lazy("JPEG, PNG, WebP or HEIC; on every paper.")
    )
    drop_logo = forms.BooleanField(required=False, label=lazy("Remove the logo"))

    class Meta:
        model = Shop
        field_classes = {"tax_rate": PercentField, "deposit": PercentField}
        fields = (*LETTERHEAD, *MONEY, *INVOICES, *TIMING, *PHOTOS, *WARRANTY, *_LONG)
        widgets = {name: forms.Textarea(attrs={"rows": 3}) for name in ("address", "how_to_pay", *_LONG)}

    def __init__(self, *args, **kwargs):
        super().__init__(*args, **kwargs)
        self.fields["language"].required = False
        for name in _LONG:
            self.initial[name] = standing_in(self.instance, name, self.instance.language)
        self.fields["valid_days"].validators.append(MaxValueValidator(MOST_VALID_DAYS))
        for name, (label, unit) in _BESIDE.items():
            self.fields[name].label, self.fields[name].unit = label, unit
        self.fields["hourly_rate"].unit = self["currency"].value()

    def clean_language(self):
        return self.cleaned_data["language"] or settled(self.initial["language"])

    def clean_new_logo(self):
        file = self.cleaned_data["new_logo"]
        try:
            return encoded(read_photo(file), LOGO_PIXELS) if file else None
        except PhotoError as error:
            raise forms.ValidationError(str(error)) from error

    def save(self, commit=True):  # noqa: FBT002 - Django's signature
        if (before := self.initial["language"]) != self.instance.language:
            change_own_language(self.instance, before, typed=self.changed_data)
        shop = super().save(commit)
        if logo := self.cleaned_data["new_logo"]:
            shop.logo.save("logo.jpg", ContentFile(logo))
        elif self.cleaned_data["drop_logo"]:
            shop.logo = ""
            shop.save(update_fields=["logo"])
        return shop

    def clean(self):
        cleaned = super().clean()
        for name in LETTERS:
            if name in cleaned:
                cleaned[name] = cleaned[name] or begun_with(name, cleaned.get("language") or PLAIN)
        return cleaned

    def clean_currency(self):
        return self.cleaned_data["currency"].upper()

    def clean_country(self):
        return self.cleaned_data["country"].upper()


class WordsForm(StaleGuard, forms.Form):
    """The shop's words in another language than its own; a blank one leaves what stands there."""

    def __init__(self, *args: Any, shop: Shop, language: str, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.shop, self.language = shop, language
        for name in WORDS:
            own: Any = Shop._meta.get_field(name)
            field: Any = own.formfield(required=False)
            self.fields[name] = field
            field.widget = forms.TextInput() if name in _SHORT else forms.Textarea(attrs={"rows": 3})
            field.widget.attrs |= {"lang": language, "maxlength": own.max_length}
            if has_place_for_text in own.validators:
                field.validators.append(has_place_for_text)
            field.initial = shop.words.get(language, {}).get(name, "")
            field.help_text = self._what_stands(name)

    def _what_stands(self, name):
        """What is printed while the field is blank."""
        text = standing_in(self.shop, name, self.language)
        if not text:
            return "Left blank, nothing is printed."
        if is_standard(name, getattr(self.shop, name)):
            return escape(f"Left blank, this is printed: {text}")
        return escape(f"Left blank, your own text is printed, in {language_name(self.shop.language)}: {text}")

    def save(self):
        """Keep what was typed with the shop."""
        typed = {name: text for name, text in self.cleaned_data.items() if text}
        self.shop.words = self.shop.words | {self.language: typed}
        self.shop.save()


class ShownGroup(NamedTuple):
    """A group of bench rules with its fields and their letters; `own` of them are the shop's own."""

    group: Group
    rules: list[tuple[str, forms.BoundField]]
    own: int
    is_open: bool


class RulesForm(StaleGuard, forms.Form):
    """Every bench rule with its default; an emptied field goes back to it.

    `linked` names the rule that a link leads to, `words` are looked for: their groups stand open.
    """

    def __init__(self, *args: Any, linked: str = "", words: str = "", **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.linked, self.words = linked, words
        own = shop_rules()
        for name, rule in RULES.items():
            unit, default = rule.metadata["unit"], cast("float", rule.default)
            field: Any = NumberField(
                lowest=0,
                highest=_HIGHEST,
                unit=_UNITS.get(unit, unit),
                required=False,
                initial=own.get(name),
                label=rule_words(name),
                help_text=lazy("{reason}; default {value}").format(
                    reason=rule.metadata["reason"], value=rule_value(default, unit)
                ),
            )
            field.default, field.is_changed = rule_value(default, unit), name in own
            field.widget.attrs["placeholder"] = format_dimension(default, unit="mm" if unit == "mm" else "count")
            self.fields[name] = field

    @property
    def groups(self) -> list[ShownGroup]:
        """The groups of rules; open where one is wrong, linked to or looked for."""
        return [self._shown(group) for group in GROUPS]

    def _shown(self, group):
        open_for = {self.linked, *self.matching, *self.errors}
        own = sum(self.fields[name].is_changed for name in group.names)
        rules = [(group.letter(name), self[name]) for name in group.names]
        return ShownGroup(group, rules, own, not open_for.isdisjoint(group.names))

    @cached_property
    def matching(self) -> list[str]:
        """The names of the rules that hold all the words looked for."""
        words = self.words.casefold().split()
        texts = {name: f"{group.title} {self._text(name)}".casefold() for group in GROUPS for name in group.names}
        return [name for name, text in texts.items() if words and all(word in text for word in words)]

    def _text(self, name):
        return f"{self.fields[name].label} {self.fields[name].help_text}"

    @property
    def changed_rules(self):
        """The names of the rules that the shop has set itself."""
        return shop_rules().keys()

    def save(self):
        """Set the rules; False puts the reason on the field where they cannot be."""
        try:
            set_shop_rules(self.cleaned_data)
        except SheetError as error:
            self.add_error(
                error.key.removeprefix("rules."), lazy("{error.reason}: it must be {error.limit}.").format(error=error)
            )
        return not self.errors


_HIGHEST = 1000
_UNITS = {"deg": "°", "share": "", "count": "times"}
