"""The places of a job's texts that hold what was searched for, with the words marked."""

from typing import NamedTuple

from django.utils.html import format_html, format_html_join
from django.utils.safestring import mark_safe

from jobs.past.search.document import QUOTE
from jobs.past.search.words import LONGEST, TOKEN, fold

PLACES = 3
"""Texts of one job that are quoted at most."""
_AROUND = 90
"""Letters before and behind the first word found."""


class Place(NamedTuple):
    """A text of the job: its source, where it stands, and the piece of it with the words found in mark elements."""

    source: str
    where: str
    text: str

    @property
    def is_of_quote(self):
        """Whether it stands in a quote, which is the owner's alone."""
        return self.source == QUOTE


def places_of(texts, terms):
    """The texts that hold most of the terms, those first that hold more; earlier ones of equals."""
    ranked_places = []
    for number, (source, where, text) in enumerate(texts):
        hits = [(token.span(), held) for token in TOKEN.finditer(text) if (held := _held(token.group(), terms))]
        if hits:
            different = len({term for _, held in hits for term in held})
            ranked_places.append((-different, number, Place(source, where, _marked(text, [span for span, _ in hits]))))
    ranked_places.sort(key=lambda entry: entry[:2])
    return [place for _, _, place in ranked_places[:PLACES]]


def _held(token, terms):
    word = fold(token)[:LONGEST]
    return [term for term in terms if any(term.holds(piece) for piece in TOKEN.findall(word))]


def _marked(text, spans):
    first, last = max(0, spans[0][0] - _AROUND), min(len(text), spans[0][1] + _AROUND)
    first = text.rfind(" ", 0, first + 1) + 1 if first and " " in text[:first] else first
    pieces, at = [], first
    for start, end in spans:
        if end > last:
            break
        pieces += [(text[at:start], text[start:end])]
        at = end
    rest = text[at:last]
    body = format_html_join("", "{}<mark>{}</mark>", pieces)
    return format_html("{}{}{}{}", "…" if first else "", body, rest, mark_safe("…") if last < len(text) else "")
