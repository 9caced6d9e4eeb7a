"""Forms of the show window: what is said of it, and one entry with its words in each language and its photos."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from django import forms
from django.db.models import Q
from django.utils.translation import gettext_lazy as lazy

from jobs.language.choices import LANGUAGES, language_name
from jobs.models import Window, WindowEntry, WindowHolder, WindowPhoto
from jobs.window.holders import proposed_holder
from jobs.window.proposals import proposed_roles, proposed_window_words, proposed_words, showable_photos
from jobs.window.translations import ENTRY_WORDS, HOLDER_WORDS, WINDOW_WORDS, behind, is_older, mark
from parts.models import CaseFamily, Movement
from parts.tools.number_field import AmountField
from parts.tools.stale_guard import StaleGuard

if TYPE_CHECKING:
    from collections.abc import Mapping

    from jobs.models import Photo, Shop
    from jobs.window.translations import Behind

_ROWS = {"title": 1, "tagline": 1, "intro": 4, "steps": 5, "contact": 3, "story": 5, "takes": 6, "materials": 4}


def _area(name):
    return forms.TextInput() if _ROWS[name] == 1 else forms.Textarea(attrs={"rows": _ROWS[name]})


class _InLanguages(StaleGuard, forms.ModelForm):
    """A form whose words can be typed for each language beside the shop's own; a blank one leaves the own words."""

    NAMES: tuple[str, ...] = ()

    def __init__(self, *args: Any, shop: Shop, languages: list[str], **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.own = shop.language
        self.languages = [code for code in languages if code != self.own]
        self._own_before = {name: getattr(self.instance, name) for name in self.NAMES}
        saved = behind(self.instance, own=shop.language, languages=self.languages) if self.instance.pk else []
        self._behind = {each.language: each for each in saved}
        for code in self.languages:
            words = self.instance.words[code] if code in self.instance.words else self.proposed_in(code)
            for name in self.NAMES:
                model_field: Any = self.instance._meta.get_field(name)
                field = model_field.formfield(required=False, widget=_area(name), initial=words.get(name, ""))
                field.widget.attrs |= {"lang": code, "maxlength": model_field.max_length}
                self.fields[f"{name}-{code}"] = field
                if is_older(self.instance, name, code):
                    field.help_text = "Your own words have changed since this was typed."
                    self.fields[f"same-{name}-{code}"] = forms.BooleanField(
                        required=False, label=lazy("It still says the same")
                    )

    def proposed_in(self, code: str) -> dict[str, str]:
        """The words that stand there before anybody typed some."""
        raise NotImplementedError

    @property
    def in_languages(self) -> list[tuple[str, list[Any], Behind | None]]:
        """(name of the language, fields, what it is behind in) of each."""
        return [(language_name(code), self._fields_in(code), self._behind.get(code)) for code in self.languages]

    def _fields_in(self, code):
        names = [each for name in self.NAMES for each in (f"{name}-{code}", f"same-{name}-{code}")]
        return [self[name] for name in names if name in self.fields]

    def put_words(self) -> None:
        """Give the instance what was typed for other languages; those that are not asked for stay.

        A proposal that stands as it was goes where the own words are no longer those that it says again.
        """
        for code in self.languages:
            typed = {name: text for name in self.NAMES if (text := self.cleaned_data[f"{name}-{code}"])}
            left = () if code in self.instance.words else self._left_behind(code, typed)
            typed = {name: text for name, text in typed.items() if name not in left}
            typed_for = {name: self._typed_for(name, code, text) for name, text in typed.items()}
            self.instance.words = self.instance.words | {code: typed}
            self.instance.typed_for = self.instance.typed_for | {code: typed_for}

    def _left_behind(self, code, typed):
        """Names whose proposal nobody touched although the own words differ from theirs."""
        proposals, own = self.proposed_in(code), self.proposed_in(self.own)
        untouched = [name for name, text in typed.items() if mark(text) == mark(proposals.get(name, ""))]
        return [name for name in untouched if mark(getattr(self.instance, name)) != mark(own.get(name, ""))]

    def _typed_for(self, name, code, text):
        """The mark of the own words that this text says again: those of now, unless it stands as it stood before."""
        stood = mark(self.instance.words.get(code, {}).get(name, "")) == mark(text)
        if not stood or self.cleaned_data.get(f"same-{name}-{code}"):
            return mark(getattr(self.instance, name))
        return self.instance.typed_for.get(code, {}).get(name) or mark(self._own_before[name])


class WindowForm(_InLanguages):
    """What stands on the site beside its entries."""

    NAMES = WINDOW_WORDS
    address = forms.URLField(
        required=False,
        label=lazy("Address of the site"),
        assume_scheme="https",
        help_text=lazy("Where you will put it, such as https://shop.example/; news feed and site map need it."),
    )
    languages_shown = forms.MultipleChoiceField(
        required=False,
        label=lazy("Languages beside your own"),
        widget=forms.CheckboxSelectMultiple,
        help_text=lazy("Our sentences come in each; yours where you type them below, else in your own language."),
    )

    class Meta:
        model = Window
        fields = ("name", "address", "email", *WINDOW_WORDS)
        widgets = {name: _area(name) for name in WINDOW_WORDS}

    def __init__(self, *args: Any, shop: Shop, **kwargs: Any) -> None:
        others = [(code, name) for code, name in LANGUAGES if code != shop.language]
        super().__init__(*args, shop=shop, languages=[code for code, _ in others], **kwargs)
        self.fields["languages_shown"].choices = others
        self.initial["languages_shown"] = self.instance.languages
        self.fields["name"].widget.attrs["placeholder"] = shop.name
        if not any(getattr(self.instance, name) for name in WINDOW_WORDS):
            self.initial.update(proposed_window_words(shop.language))

    def proposed_in(self, code):
        return proposed_window_words(code)

    def clean_address(self):
        address = self.cleaned_data["address"]
        if address and (not address.startswith(("http://", "https://")) or "?" in address or "#" in address):
            raise forms.ValidationError(
                lazy("Type the address of a folder on the web, such as https://shop.example/watches/.")
            )
        return address

    def save(self, commit=True):  # noqa: FBT002 - Django's signature
        self.put_words()
        self.instance.languages = self.cleaned_data["languages_shown"]
        return super().save(commit)


class HolderForm(_InLanguages):
    """A holder or spacer that can be ordered: its words and its price."""

    NAMES = HOLDER_WORDS
    price_from = AmountField(label=lazy("Price from"))

    class Meta:
        model = WindowHolder
        fields = (*HOLDER_WORDS, "price_from")
        widgets = {name: _area(name) for name in HOLDER_WORDS}

    def __init__(self, *args: Any, shop: Shop, **kwargs: Any) -> None:
        super().__init__(*args, shop=shop, **kwargs)
        if self.instance.pk is None:
            self.initial.update(proposed_holder(self.instance.design, shop.language))
        price: Any = self.fields["price_from"]
        price.unit = shop.currency

    def proposed_in(self, code):
        return {"title": proposed_holder(self.instance.design, code)["title"]}


class EntryForm(_InLanguages):
    """One entry: its words, what it costs, and which photos of the job it shows."""

    NAMES = ENTRY_WORDS
    price_from = AmountField(label=lazy("Price from"))

    class Meta:
        model = WindowEntry
        fields = (*ENTRY_WORDS, "family", "movement", "price_from", "days", "with_look", "with_section")
        widgets = {name: _area(name) for name in ENTRY_WORDS}

    def __init__(self, *args: Any, shop: Shop, proposal: Mapping[str, Any], **kwargs: Any) -> None:
        super().__init__(*args, shop=shop, **kwargs)
        self.initial.update(proposal)
        for name, records in (("family", CaseFamily.objects), ("movement", Movement.objects.filter(made_for=""))):
            field: Any = self.fields[name]
            field.queryset = records.filter(Q(archived=False) | Q(pk=getattr(self.instance, f"{name}_id")))
            field.empty_label = "none"
        self.fields["price_from"].unit = shop.currency
        self.fields["days"].unit = "days"
        self.photos = showable_photos(self.instance.job)
        known = {shown.photo_id: shown for shown in self.instance.photos.all()} if self.instance.pk else {}
        roles = {pk: shown.role for pk, shown in known.items()} if self.instance.pk else proposed_roles(self.photos)
        for number, photo in enumerate(self.photos, start=1):
            self.fields[f"role-{photo.pk}"] = forms.ChoiceField(
                choices=[("", "not shown"), *WindowPhoto.Role.choices],
                required=False,
                initial=roles.get(photo.pk, ""),
                label=lazy("Photo {number}").format(number=number),
            )
            self.fields[f"caption-{photo.pk}"] = forms.CharField(
                max_length=120,
                required=False,
                initial=known[photo.pk].caption if photo.pk in known else "",
                label=lazy("Words for photo {number}").format(number=number),
            )

    def proposed_in(self, code):
        return proposed_words(self.instance.job, code)

    def clean(self):
        cleaned = super().clean()
        for role in (WindowPhoto.Role.BEFORE, WindowPhoto.Role.AFTER):
            numbers = [n for n, photo in enumerate(self.photos, start=1) if cleaned.get(f"role-{photo.pk}") == role]
            for number in numbers[1:]:
                self.add_error(
                    f"role-{self.photos[number - 1].pk}",
                    lazy(
                        "Photo {numbers[0]} is “{role.label}” already. Only one can be; make the other a detail."
                    ).format(numbers=numbers, role=role),
                )
        return cleaned

    @property
    def photo_rows(self) -> list[tuple[Photo, Any, Any]]:
        """(photo, field of its role, field of its words) of each photo of the job."""
        return [(photo, self[f"role-{photo.pk}"], self[f"caption-{photo.pk}"]) for photo in self.photos]

    @property
    def chosen_photos(self) -> list[WindowPhoto]:
        """The photos to show, as typed."""
        typed = self.cleaned_data
        return [
            WindowPhoto(photo=photo, role=role, caption=typed[f"caption-{photo.pk}"])
            for photo in self.photos
            if (role := typed[f"role-{photo.pk}"])
        ]
