"""Every file of the site by its path: pages in each language, news feeds, the site map, photos, style and script.

Nothing is made before it is asked for. Pages link to each other by relative addresses, so that the folder works
wherever it lies; only feeds, the site map and what search engines read need the site's own address.
"""

from __future__ import annotations

import posixpath
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from functools import partial
from typing import TYPE_CHECKING, Any, NamedTuple

from django.conf import settings
from django.template.loader import render_to_string

from jobs.language.choices import speaking
from jobs.window import structured
from jobs.window.feeds import atom_feed, site_map

if TYPE_CHECKING:
    import datetime as dt

    from jobs.window.site import Site

NAMES = {"en": "English", "de": "Deutsch", "fr": "Français", "es": "Español", "ja": "日本語"}
"""Each language as it calls itself."""
HOME, ALL = "index.html", "pieces.html"
_ASSETS = {
    "assets/site.css": "window/site.css",
    "assets/drawings.css": "css/drawings.css",
    "assets/icon.svg": "window/icon.svg",
    "assets/search.js": "window/search.js",
    "fonts/IBMPlexSans-Regular.woff2": "fonts/IBMPlexSans-Regular.woff2",
    "fonts/IBMPlexSerif-Medium.woff2": "fonts/IBMPlexSerif-Medium.woff2",
    "fonts/LICENSE.txt": "fonts/LICENSE.txt",
}


class File(NamedTuple):
    """What makes a file; `is_fixed`: the same name always holds the same; `is_ours`: nobody typed any of it."""

    make: Callable[[], bytes]
    is_fixed: bool = False
    is_ours: bool = False


@dataclass(frozen=True, slots=True)
class Page:
    """One page in one language: `path` within its language's folder, the template and what that shows."""

    site: Site
    language: str
    path: str
    template: str
    shows: dict[str, Any] = field(default_factory=dict)
    updated: dt.datetime | None = None

    @property
    def place(self) -> str:
        """Its path within the whole site."""
        return f"{self.site.prefix(self.language)}{self.path}"

    @property
    def address(self) -> str:
        """Its whole address; empty where the site has none yet."""
        return self.site.address and f"{self.site.address}{self.place.removesuffix(HOME)}"

    def relative(self, place: str) -> str:
        """The way from this page to another place of the site."""
        return posixpath.relpath(place, posixpath.dirname(self.place) or ".")

    def to(self, path: str, language: str = "") -> str:
        """The way to a page by its path within a language's folder: this page's, where no other is named."""
        return self.relative(f"{self.site.prefix(language or self.language)}{path}")

    @property
    def languages(self) -> list[tuple[str, str, Page]]:
        """(code, name, page) of the same page in each language of the site."""
        return [(code, NAMES[code], self.in_language(code)) for code in self.site.languages]

    def in_language(self, code: str) -> Page:
        return Page(self.site, code, self.path, self.template, {}, self.updated)


def pages_of(site: Site, language: str) -> Iterator[Page]:
    """Every page in a language."""
    content = site.content(language)
    newest = max((piece.updated for piece in content.pieces), default=None)
    make = partial(Page, site, language)
    yield make(HOME, "window/home.html", updated=newest)
    yield make(ALL, "window/pieces.html", updated=newest)
    for piece in content.pieces:
        yield make(piece.path, "window/piece.html", {"piece": piece}, piece.updated)
    for holder in content.holders:
        yield make(holder.path, "window/holder.html", {"holder": holder}, holder.updated)
    for groups, kind in ((content.families, "family"), (content.movements, "movement")):
        for group in groups:
            to_order = content.holders_of(group.name)
            shows = {"group": group, "kind": kind, "to_order": to_order}
            yield make(group.path, "window/group.html", shows, group.updated)


def rendered(page: Page) -> bytes:
    """The page's bytes."""
    content = page.site.content(page.language)
    with speaking(page.language):
        shows = {"page": page, "site": page.site, "content": content, "facts": structured.facts_of(page), **page.shows}
        html = render_to_string(page.template, shows)
    lines = (line.rstrip() for line in html.splitlines())
    return ("\n".join(line for line in lines if line) + "\n").encode()


def files_of(site: Site) -> dict[str, File]:
    """Every file by its path but the photos; nothing is made yet."""
    files: dict[str, File] = {}
    everything = {language: list(pages_of(site, language)) for language in site.languages}
    for path, source in _ASSETS.items():
        files[path] = File(partial(_asset, source), is_ours=True)
    for pages in everything.values():
        files |= {page.place: File(partial(rendered, page)) for page in pages}
    if site.address and site.entries:
        for language in site.languages:
            files[f"{site.prefix(language)}feed.xml"] = File(partial(atom_feed, everything[language][0]))
        files["sitemap.xml"] = File(partial(site_map, [page for pages in everything.values() for page in pages]))
        files["robots.txt"] = File(f"Sitemap: {site.address}sitemap.xml\n".encode)
    return files


def photos_of(site: Site) -> dict[str, File]:
    """The photos of every page, those in drawings too, by their paths."""
    site.content(site.own)
    for entry in site.entries:
        site.drawings(entry)
    return {path: File(make, is_fixed=True, is_ours=True) for path, make in site.pictures.files.items()}


def _asset(source):
    return (settings.BASE_DIR / "static" / source).read_bytes()
