"""Which words of the show window a language lacks, and which are older than the shop's own that they say again.

A translation is kept with a mark of the own words that it was typed for; when those change, it is older than they are
until it is changed too, or somebody says that it still says the same.
"""

from __future__ import annotations

import hashlib
from typing import TYPE_CHECKING, NamedTuple

from jobs.language.choices import language_name
from jobs.models import WindowEntry, WindowHolder
from jobs.window.holders import proposed_title
from jobs.window.proposals import in_another_language, proposed_window_words

if TYPE_CHECKING:
    from collections.abc import Iterable

    from jobs.models import Window

ENTRY_WORDS = ("title", "story", "takes")
HOLDER_WORDS = ("title", "story", "materials")
WINDOW_WORDS = ("tagline", "intro", "steps", "contact")


class Behind(NamedTuple):
    """The fields of a record, in words, that a language lacks, and those whose translation is older."""

    language: str
    missing: list[str]
    older: list[str]

    def __str__(self):
        missing = f"{_list(self.missing)} missing" if self.missing else ""
        older = f"{_list(self.older)} older than your own words" if self.older else ""
        return f"{language_name(self.language)}: {'; '.join(filter(None, (missing, older)))}"


def _list(names):
    return ", ".join(f"“{name}”" for name in names)


def mark(text: str) -> str:
    """What tells whether a text is still the same; no word of it can be read from that."""
    return hashlib.sha256(text.replace("\r\n", "\n").strip().encode()).hexdigest()[:12]


def is_older(record: WindowEntry | WindowHolder | Window, name: str, code: str) -> bool:
    """Whether a translation was typed for other words than stand there now; those of before this was noted pass."""
    typed_for = record.typed_for.get(code, {}).get(name)
    has_words = record.words.get(code, {}).get(name)
    return bool(has_words and typed_for) and typed_for != mark(getattr(record, name))


def behind(record: WindowEntry | WindowHolder | Window, *, own: str, languages: Iterable[str]) -> list[Behind]:
    """The `languages`, beside the shop's `own`, in which a saved record does not say all that it says in that one."""
    names = {WindowEntry: ENTRY_WORDS, WindowHolder: HOLDER_WORDS}.get(type(record), WINDOW_WORDS)
    rows = []
    for code in (code for code in languages if code != own):
        missing = [_word(record, name) for name in names if _is_missing(record, name, code, own)]
        older = [_word(record, name) for name in names if is_older(record, name, code)]
        if missing or older:
            rows.append(Behind(code, missing, older))
    return rows


def _is_missing(record, name, code, own):
    text = getattr(record, name)
    if not text or record.words.get(code, {}).get(name):
        return False
    if isinstance(record, WindowEntry):
        lines = [line.strip() for line in text.splitlines() if line.strip()]
        return (
            name != "takes" or set(lines) != in_another_language(record.job, lines, written=own, language=code).keys()
        )
    if isinstance(record, WindowHolder):
        return name != "title" or text != proposed_title(record.design, own)
    return text.replace("\r\n", "\n") != proposed_window_words(own).get(name)


def _word(record, name):
    return str(record._meta.get_field(name).verbose_name)
