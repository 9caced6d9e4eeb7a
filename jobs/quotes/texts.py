"""The shop's own words that go along with a quote, filled in for copying. Dialside sends nothing."""

from __future__ import annotations

import re
from collections.abc import Iterable
from typing import TYPE_CHECKING

from django.utils.translation import pgettext

from jobs.language.choices import speaking
from jobs.language.formats import day
from jobs.models import Shop
from jobs.money.sums import shown
from jobs.shop.words import in_language

if TYPE_CHECKING:
    from jobs.models import Quote
    from jobs.quotes.ways import Way

PLACES = ("name", "watch", "number", "version", "total", "valid until", "shop")
"""What the shop's texts may name in braces, such as {valid until}."""


def texts_of(*, quote: Quote, ways: Iterable[Way]) -> list[tuple[str, str]]:
    """(what it is for, text) of each text that the shop has worded, in the quote's language."""
    shop = in_language(Shop.current(), quote.language)
    with speaking(quote.language):
        values = (
            quote.job.customer.name,
            quote.watch,
            quote.job.number,
            str(quote.version),
            _total(quote, ways),
            day(quote.valid_until),
            str(shop),
        )
    texts = (("E-mail", shop.quote_email), ("Message", shop.quote_message))
    return [(word, filled(text, dict(zip(PLACES, values, strict=True)))) for word, text in texts if text]


def filled(text: str, values: dict[str, str]) -> str:
    """The text with each {place} that there is filled in; other braces stay as they are."""
    return re.sub(r"\{([a-z ]+)\}", lambda place: values.get(place[1], place[0]), text)


def _total(quote, ways):
    """What the customer will pay: one amount, or from the least to the most."""
    amounts = sorted({total for way in ways for total in (way.least.total, way.sums.total)})
    words = [shown(amount, quote.currency) for amount in dict.fromkeys((amounts[0], amounts[-1]))]
    return pgettext("two amounts", " to ").join(words)
