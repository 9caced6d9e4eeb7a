"""Past jobs by words and by what is known of them, newest first or best first."""

from __future__ import annotations

import datetime as dt
from collections.abc import Collection
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from jobs.models import Job, Outcome, Past, PastText, Stage
from jobs.past.search import word_index
from jobs.past.search.snippets import places_of
from jobs.past.search.words import Term, terms_of

if TYPE_CHECKING:
    from django.db.models import QuerySet

PAGE = 25
WINDOW = 1000
"""Of more jobs that hold the words the newest so many are weighed: ranking is then bounded however many there are."""
_RELATED = ("job__case_family", "family")


@dataclass(frozen=True, slots=True)
class Found:
    """A page of past jobs. `onward` is the key to go on after, None on the last page.

    `taken` are the terms that were taken for other words; `some` tells that no job holds every word.
    """

    lines: list
    onward: int | None = None
    taken: list[Term] = field(default_factory=list)
    some: bool = False
    many: bool = False


@dataclass(frozen=True, slots=True)
class Line:
    """One past job with the places where its texts hold the words."""

    past: Past
    places: list

    @property
    def outcome(self):
        """How it turned out, in words."""
        return Outcome.Word(self.past.outcome).label if self.past.outcome else ""

    @property
    def hours(self):
        return hours_word(self.past.took) if self.past.took else "no time recorded"

    @property
    def spent(self):
        """(stage, hours in words) in the stages' order."""
        spent = self.past.spent
        return [(kind.label, hours_word(spent[kind])) for kind in Stage.Kind if spent.get(kind)]


def hours_word(minutes):
    """Minutes as hours with one decimal, with their unit."""
    return f"{minutes / 60:.1f} h"


def narrowed(
    *,
    states: Collection[str] = (),
    families: Collection[int] | None = None,
    movements: Collection[int] | None = None,
    stage: str = "",
    outcome: str = "",
    learn: bool = False,
    since: dt.date | None = None,
    until: dt.date | None = None,
) -> QuerySet[Past]:
    """The Past rows of these kinds; `families` and `movements` are primary keys, None for all."""
    wanted = {
        "state__in": states,
        "family__in": families,
        "movement__in": movements,
        "stage": stage,
        "outcome": outcome,
        "day__gte": since,
        "day__lte": until,
    }
    past = Past.objects.filter(**{name: value for name, value in wanted.items() if value not in (None, "", ())})
    return past.filter(learn=True) if learn else past


def find(*, past: QuerySet[Past], words: str = "", after: int | None = None) -> Found:
    """A page of these Past rows: newest first, or best first where there are words; `after` is a job's key."""
    if terms := terms_of(words):
        return _by_words(past, terms, after)
    rows = past.order_by("-day", "-pk")
    if after and (last := Past.objects.filter(pk=after).values_list("day", "pk").first()):
        rows = (rows.filter(day__lt=last[0]) | rows.filter(day=last[0], job__lt=last[1])).filter(day__lte=last[0])
    page = list(rows.select_related(*_RELATED)[: PAGE + 1])
    onward = page[PAGE - 1].pk if len(page) > PAGE else None
    return Found([Line(row, []) for row in page[:PAGE]], onward)


def _by_words(past, terms, after):
    every = True
    keys = word_index.newest(past, terms, every=True, most=WINDOW)
    if not keys and len(terms) > 1:
        every, keys = False, word_index.newest(past, terms, every=False, most=WINDOW)
    best = word_index.ranked(keys, terms, every=every)
    start = best.index(after) + 1 if after in best else 0
    shown = best[start : start + PAGE]
    rows = Past.objects.select_related(*_RELATED).in_bulk(shown)
    texts = dict(PastText.objects.filter(pk__in=shown).values_list("job", "told"))
    lines = [Line(rows[key], places_of(texts.get(key, ()), terms)) for key in shown if key in rows]
    onward = shown[-1] if start + PAGE < len(best) else None
    taken = [term for term in terms if term.near]
    return Found(lines, onward, taken, some=bool(best) and not every, many=len(keys) == WINDOW)


STATES = [
    (Job.State.FINISHED, "finished"),
    (Job.State.OPEN, "still open"),
    (Job.State.DECLINED, "declined"),
    (Job.State.RETURNED, "returned as it came"),
    ("any", "any of these"),
]
