"""Words that the program composes for a customer: they can be said in any of our languages, also later.

A quote keeps each of them twice: as text, which may be edited, and as what it was composed of. While the text stands
as it was composed, it is said anew for a paper in another language; what somebody typed stays as it was typed.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any

from django.utils.translation import gettext

from jobs.language.choices import speaking
from jobs.language.formats import measured

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping

    from jobs.models import QuoteLine, QuotePart
    from jobs.quotes.ways import Way


@dataclass(frozen=True, slots=True)
class Composed:
    """A message of the catalogue, in English, and the measured values that fill it, as the fit check writes them.

    `letter` tells apart what would read alike, such as two quartz movements: "Quartz movement with date (B)".
    """

    message: str
    values: Mapping[str, str] = field(default_factory=dict)
    letter: str = ""

    def __str__(self) -> str:
        """In the language that is spoken now."""
        words = gettext(self.message) if self.message else ""
        if self.values:
            words = words.format(**{name: measured(value) for name, value in self.values.items()})
        return f"{words} ({self.letter})" if self.letter else words

    @property
    def facts(self) -> dict[str, Any]:
        """As a line of a quote keeps it."""
        facts = {"message": self.message, "values": dict(self.values)}
        return facts | {"letter": self.letter} if self.letter else facts


def said_in(language: str, text: str, facts: Mapping[str, Any] | None, written: str) -> str:
    """The text, `written` in one language, in another: composed anew where it stands as it was composed."""
    if not facts or language == written:
        return text
    words = Composed(**facts)
    with speaking(written):
        stands = str(words) == text
    with speaking(language):
        return str(words) if stands else text


def say(words: Iterable[QuoteLine | QuotePart], *, language: str, written: str) -> None:
    """Put the texts of lines and the titles of options into a language; nothing is saved."""
    for each in words:
        name = "title" if hasattr(each, "title") else "text"
        setattr(each, name, said_in(language, getattr(each, name), each.composed, written))


def say_ways(ways: Iterable[Way], language: str) -> None:
    """Put everything that options say into a language; nothing is saved."""
    for way in ways:
        lines = (*way.work, *way.parts, *way.accept)
        say((way.part, *lines), language=language, written=way.part.quote.language)
