"""What the shop says in each language: its own words where it typed some, else those of its own language.

A text that the shop never worded itself is a message of the catalogue, and comes in every language.
"""

from __future__ import annotations

from copy import copy
from functools import cache
from typing import TYPE_CHECKING

from django.utils.translation import gettext

from jobs.language.choices import CODES, settled, speaking
from jobs.models import Shop

if TYPE_CHECKING:
    from collections.abc import Collection

    from jobs.models import Customer

TEXTS = (
    *("greeting", "terms", "liability", "uncollected", "privacy"),
    *("warranty", "care", "water", "button_cell", "nickel"),
)
TEXTS_TO_COPY = ("quote_email", "quote_message")
LETTERS = ("after_email", "after_message", "after_cell", "after_warranty", "after_promise")
ON_INVOICES = ("how_to_pay", "no_tax_reason")
ON_TOP = ("name", "address")
WORDS = (*ON_TOP, *ON_INVOICES, *TEXTS, *TEXTS_TO_COPY, *LETTERS)
"""The fields of the shop that are words."""


def in_language(shop: Shop, language: str) -> Shop:
    """The shop as it speaks that language: a copy, never to be saved."""
    speaker = copy(shop)
    for name in WORDS:
        setattr(speaker, name, words_in(shop, name, language))
    return speaker


def words_in(shop: Shop, name: str, language: str) -> str:
    """One text in a language: typed for it, or what stands where nothing is."""
    return _typed(shop, name, language) or standing_in(shop, name, language)


def standing_in(shop: Shop, name: str, language: str) -> str:
    """What stands in a language while nothing is typed for it: our text, or the shop's own in its own language."""
    own = getattr(shop, name)
    return _standard(name)[language] if is_standard(name, own) else own


def change_own_language(shop: Shop, before: str, *, typed: Collection[str]) -> None:
    """Have the words that were typed for the shop's new language be its own, and its own those of the one before.

    Those `typed` just now, by their fields, are of the new language already. Nothing is saved.
    """
    words = {code: dict(texts) for code, texts in shop.words.items()}
    taken, left = words.pop(shop.language, {}), words.setdefault(before, {})
    for name in (name for name in WORDS if name not in typed):
        own = getattr(shop, name)
        if own and not is_standard(name, own):
            left[name] = own
        setattr(shop, name, taken.get(name, own))
    shop.words = words


def is_standard(name: str, text: str) -> bool:
    """Whether a text of the shop is the one that it began with, in any language."""
    return bool(text) and text.replace("\r\n", "\n") in _standard(name).values()


def begun_with(name: str, language: str) -> str:
    """The text that a new shop begins with, in a language."""
    return _standard(name)[language]


def language_for(customer: Customer, shop: Shop, asked: str = "") -> str:
    """The language of a customer's papers: the one that is asked for, the customer's, or the shop's own."""
    return settled(asked, customer.language, shop.language)


def _typed(shop, name, language):
    return "" if language == shop.language else shop.words.get(language, {}).get(name, "")


@cache
def _standard(name):
    """The text that a new shop begins with, by language."""
    text = Shop._meta.get_field(name).default
    return {code: _said(str(text), code) for code in CODES} if isinstance(text, str) and text else {}


def _said(text, code):
    with speaking(code):
        return gettext(text)
