"""What is to be shown, held against everything personal: first every text by its entry and field, then every file.

A word that is somebody's and something else too, such as Marsh, is cleared by the owner for the entry that it stands
in. In the files, which are the second look, single words of the site's own sentences count for no name; `passed_over`
names those.
"""

from __future__ import annotations

import html
import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import cache
from typing import TYPE_CHECKING

from babel.messages.mofile import read_mo
from django.conf import settings

from jobs.language.choices import CODES, PLAIN, language_name
from jobs.models import Window, WindowEntry, WindowHolder
from jobs.window.check.personal import Hit, Personal, words_in
from jobs.window.pages import NAMES
from jobs.window.translations import ENTRY_WORDS, HOLDER_WORDS, WINDOW_WORDS

if TYPE_CHECKING:
    from jobs.window.pages import File
    from jobs.window.site import Site

_NO_WORDS = re.compile(
    r'\s(?:d|points|transform|viewBox|[xy][12]?|c[xy]|r|rx|ry|width|height|font-size|stroke-[a-z]+)="[^"]*"'
    r'|"@\w+": "[^"]*"'
)
"""Numbers of drawings and names of schema.org, which are no words of anybody's."""


@dataclass(frozen=True, slots=True)
class Finding:
    """Something personal that is to be shown, and where; `record` is the entry, or the window, that it stands in."""

    hit: Hit
    record: WindowEntry | WindowHolder | Window
    place: str
    cleared: bool

    @property
    def entry(self) -> WindowEntry | WindowHolder | None:
        return None if isinstance(self.record, Window) else self.record


class Check:
    """The findings of the site as it is now; nothing is written while `stops` has any."""

    def __init__(self, site: Site, files: Mapping[str, File]) -> None:
        self.personal = Personal()
        in_words = [self._finding(*each) for each in _texts_of(site) for each in self._hits(*each)]
        known = {finding.hit.key for finding in in_words}
        self.passed_over: set[str] = set()
        in_files = [
            self._finding(hit, site.window, f"the file {path}")
            for path, file in files.items()
            if not file.is_ours
            for hit in self.personal.hits(_words_of(path, file.make()))
            if hit.key not in known and not self._is_our_own(hit)
        ]
        self.findings = [*in_words, *in_files]

    @property
    def stops(self) -> list[Finding]:
        return [finding for finding in self.findings if not finding.cleared]

    @property
    def cleared(self) -> list[Finding]:
        return [finding for finding in self.findings if finding.cleared]

    def _hits(self, text, record, place):
        for hit in self.personal.hits(text):
            yield hit, record, place

    def _finding(self, hit, record, place):
        return Finding(hit, record, place, hit.key in record.cleared)

    def _is_our_own(self, hit):
        is_own = hit.key in _own_words()
        if is_own:
            self.passed_over.add(hit.words)
        return is_own


def _texts_of(site: Site) -> Iterator[tuple[str, WindowEntry | WindowHolder | Window, str]]:
    """Every text that somebody typed for the window, with the entry it is of and the field in words."""
    window = site.window
    for name in ("name", "address", "email"):
        yield getattr(window, name), window, _field(window, name)
    yield from _worded(window, WINDOW_WORDS, site)
    for entry in site.entries:
        yield from _worded(entry, ENTRY_WORDS, site)
        for name in ("family", "movement"):
            if part := getattr(entry, name):
                yield part.name, entry, _field(entry, name)
        for number, photo in enumerate(entry.photos.all(), start=1):
            yield photo.caption, entry, f"words of photo {number}"
    for holder in site.holders:
        yield from _worded(holder, HOLDER_WORDS, site)
        for part in (holder.design.family, holder.design.movement):
            yield part.name, holder, str(part._meta.verbose_name)


def _worded(record, names, site):
    for name in names:
        yield getattr(record, name), record, _field(record, name)
        for code in site.languages[1:]:
            yield record.words.get(code, {}).get(name, ""), record, f"{_field(record, name)}, {language_name(code)}"


def _field(record, name):
    return str(record._meta.get_field(name).verbose_name)


def _words_of(path: str, content: bytes) -> str:
    """What a file says, its path too, without what only draws."""
    text = content.decode()
    return f"{path}\n{html.unescape(_NO_WORDS.sub(' ', text))}"


@cache
def _own_words() -> set[str]:
    """The single words of the site's own sentences, in every language."""
    texts: list[str] = list(NAMES.values())
    for code in CODES:
        if code != PLAIN:
            with (settings.BASE_DIR / f"jobs/locale/{code}/LC_MESSAGES/django.mo").open("rb") as file:
                for message in read_mo(file):
                    for said in (message.id, message.string):
                        texts += said if isinstance(said, tuple | list) else [said or ""]
    return words_in(texts)
