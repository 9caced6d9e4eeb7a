"""What the site shows, read from the entries in the window: pieces, and the cases and movements that they are of."""

from __future__ import annotations

from dataclasses import dataclass, field
from functools import partial
from typing import TYPE_CHECKING, NamedTuple

from babel import Locale
from babel.numbers import format_currency
from django.db.models import Prefetch
from django.utils.html import escape, format_html
from django.utils.text import slugify
from django.utils.translation import gettext as _
from django.utils.translation import ngettext

from jobs.language.choices import CODES, settled, speaking
from jobs.language.formats import locale_code
from jobs.models import Shop, Window, WindowEntry, WindowPhoto
from jobs.money.sums import shown
from jobs.window.drawings import drawings_of, on_page
from jobs.window.pictures import Pictures

if TYPE_CHECKING:
    import datetime as dt
    from collections.abc import Callable
    from decimal import Decimal

    from django.utils.safestring import SafeString

    from jobs.window.pictures import Shown

NEWEST = 6
"""Pieces on the first page, and in the news feed three times as many."""
ENTRY_WORDS = ("title", "story", "takes")
WINDOW_WORDS = ("tagline", "intro", "steps", "contact")


class Said(str):
    """A text as the page says it; `lang` where that is not the page's own language."""

    __slots__ = ("lang",)
    lang: str

    def __new__(cls, text: str, lang: str = "") -> Said:
        said = super().__new__(cls, text)
        said.lang = lang if text else ""
        return said

    def __html__(self) -> str:
        plain = escape(str(self))
        return format_html('<span lang="{}">{}</span>', self.lang, plain) if self.lang else plain

    @property
    def plain(self) -> str:
        """Without its language, for an attribute."""
        return str(self)

    @property
    def lines(self) -> list[Said]:
        """Each line that holds something."""
        return [Said(line.strip(), self.lang) for line in self.splitlines() if line.strip()]


class Price(NamedTuple):
    """The price from: the amount, and how it is said alone and behind a "from"; empty where none is given."""

    amount: Decimal | None = None
    words: str = ""
    from_words: str = ""

    def __bool__(self) -> bool:
        return self.amount is not None


class Picture(NamedTuple):
    """A photo with its words; `words` are what is said to who does not see it."""

    shown: Shown
    role: str
    words: str
    caption: Said


@dataclass(eq=False)
class Piece:
    """One conversion in one language."""

    code: str
    path: str
    title: Said
    story: Said
    takes: Said
    price: Price
    how_long: str
    pictures: list[Picture]
    draw: Callable[[str], SafeString]
    first_shown: dt.datetime
    updated: dt.datetime
    family: Group | None = None
    movement: Group | None = None

    def picture(self, role: str) -> Picture | None:
        return next((picture for picture in self.pictures if picture.role == role), None)

    @property
    def before(self) -> Picture | None:
        return self.picture("before")

    @property
    def after(self) -> Picture | None:
        """The picture that stands for it: after the work, else any."""
        return self.picture("after") or (self.pictures[0] if self.pictures else None)

    @property
    def details(self) -> list[Picture]:
        """Those beside the two that stand side by side."""
        return [picture for picture in self.pictures if picture not in (self.before, self.after)]

    @property
    def look(self) -> SafeString:
        """The dial as it is now, drawn; empty where it is not shown."""
        return self.draw("look")

    @property
    def section(self) -> SafeString:
        """The section through the watch; empty where it is not shown."""
        return self.draw("section")

    @property
    def in_short(self) -> str:
        """Its case, price and time in a line."""
        facts = (self.family.name if self.family else "", self.price.from_words, self.how_long)
        return " · ".join(filter(None, facts))

    @property
    def of(self) -> str:
        """Its case and its movement."""
        return ", ".join(group.name for group in (self.family, self.movement) if group)

    @property
    def others(self) -> list[Piece]:
        """Others of the same case."""
        return [piece for piece in (self.family.pieces if self.family else []) if piece is not self]


@dataclass(eq=False)
class Group:
    """A case family or a movement with its pieces."""

    name: str
    path: str
    pieces: list[Piece] = field(default_factory=list)

    @property
    def price(self) -> Price:
        """The lowest of its prices."""
        return min((piece.price for piece in self.pieces if piece.price), default=Price())

    @property
    def updated(self) -> dt.datetime:
        return max(piece.updated for piece in self.pieces)


class Site:
    """The site as it is now. `languages` begin with the shop's own; `pictures` fills as pages are made."""

    def __init__(self) -> None:
        self.shop, self.window = Shop.current(), Window.current()
        self.own = settled(self.shop.language)
        wanted = {self.own, *self.window.languages}
        self.languages = [self.own, *(code for code in CODES if code in wanted and code != self.own)]
        self.name = self.window.name or self.shop.name
        self.address = self.window.address and f"{self.window.address.rstrip('/')}/"
        self.pictures = Pictures()
        photos = Prefetch("photos", WindowPhoto.objects.select_related("photo").order_by("photo__place", "photo__pk"))
        entries = WindowEntry.objects.filter(shown=True).select_related("family", "movement", "job")
        self.entries = list(entries.prefetch_related(photos))
        self._slugs = {kind: _slugs(self.entries, kind) for kind in ("family", "movement")}
        self._contents: dict[str, Content] = {}
        self._drawings: dict[int, dict[str, str]] = {}

    def prefix(self, language: str) -> str:
        """Where the pages of a language lie: the shop's own at the top."""
        return "" if language == self.own else f"{language}/"

    def content(self, language: str) -> Content:
        """Everything that is shown, in a language."""
        if language not in self._contents:
            with speaking(language):
                self._contents[language] = Content(self, language)
        return self._contents[language]

    def drawings(self, entry: WindowEntry) -> dict[str, str]:
        """The drawings of an entry, made once for every language."""
        if not (entry.with_look or entry.with_section):
            return {"look": "", "section": ""}
        if entry.pk not in self._drawings:
            self._drawings[entry.pk] = drawings_of(entry, self.pictures)
        return self._drawings[entry.pk]

    def slug(self, kind: str, record) -> str:
        return self._slugs[kind][record.pk]


class Content:
    """What is shown in one language, which is spoken while it is made: pieces newest first, groups by their names."""

    def __init__(self, site: Site, language: str) -> None:
        self.site, self.language = site, language
        said = (self._said(site.window, name) for name in WINDOW_WORDS)
        self.tagline, self.intro, self.steps, self.contact = said
        self.families: list[Group] = []
        self.movements: list[Group] = []
        by_key: dict[tuple[str, int], Group] = {}
        self.pieces = [self._piece(entry, by_key) for entry in site.entries]
        for groups in (self.families, self.movements):
            groups.sort(key=lambda group: group.name.casefold())

    @property
    def newest(self) -> list[Piece]:
        """The newest after the very newest, which leads the first page."""
        return self.pieces[1 : NEWEST + 1]

    def _said(self, record, name):
        own = getattr(record, name)
        if self.language == self.site.own:
            return Said(own)
        typed = record.words.get(self.language, {}).get(name, "")
        return Said(typed) if typed else Said(own, self.site.own)

    def _piece(self, entry, by_key):
        title = self._said(entry, "title")
        piece = Piece(
            code=entry.code,
            path=path_of(entry),
            title=title,
            story=self._said(entry, "story"),
            takes=self._said(entry, "takes"),
            price=_price(entry.price_from, self.site.shop.currency),
            how_long=_how_long(entry.days),
            pictures=list(self._pictures(entry, title.plain)),
            draw=partial(self._drawn, entry),
            first_shown=entry.first_shown,
            updated=entry.updated,
        )
        for kind, folder, groups in (("family", "cases", self.families), ("movement", "movements", self.movements)):
            if record := getattr(entry, kind):
                group = by_key.get((kind, record.pk))
                if group is None:
                    path = f"{folder}/{self.site.slug(kind, record)}.html"
                    group = by_key[kind, record.pk] = Group(record.name, path)
                    groups.append(group)
                group.pieces.append(piece)
                setattr(piece, kind, group)
        return piece

    def _pictures(self, entry, title):
        said = {"before": _("{title}, before the work"), "after": _("{title}, after the work"), "detail": "{title}"}
        for photo in entry.photos.all():
            own = Said(photo.caption) if self.language == self.site.own else Said("")
            if shown_photo := self.site.pictures.add(photo.photo.file):
                words = said[photo.role].format(title=title)
                yield Picture(shown_photo, photo.role, f"{words}: {own}" if own else words, own)

    def _drawn(self, entry, name):
        titles = {
            "look": _("The dial with its hands, drawn to scale"),
            "section": _("Section through the watch, drawn to scale"),
        }
        top = "../" * (1 + bool(self.site.prefix(self.language)))
        return on_page(self.site.drawings(entry)[name], title=titles[name], top=top)


def path_of(entry: WindowEntry) -> str:
    """The address of an entry's page in its language's folder; it stays, whatever the entry is called."""
    return f"pieces/{entry.code.lower()}.html"


def _slugs(entries, kind):
    """A readable name for the page of each case family or movement; the oldest of two alike has it alone."""
    records = sorted({record.pk: record for entry in entries if (record := getattr(entry, kind))}.items())
    slugs: dict[int, str] = {}
    for pk, record in records:
        slug = slugify(record.name)
        slugs[pk] = slug if slug and slug not in slugs.values() else f"{slug or kind}-{pk}"
    return slugs


def _price(amount, currency):
    if amount is None:
        return Price()
    words = _whole_coins(amount, currency) if amount == int(amount) else shown(amount, currency)
    return Price(amount, words, _("from {price}").format(price=words))


def _whole_coins(amount, currency):
    """An amount that has no part of a coin, without its noughts."""
    pattern = Locale.parse(locale_code()).currency_formats["standard"].pattern.replace("0.00", "0")
    return format_currency(amount, currency, pattern, locale=locale_code(), currency_digits=False)


def _how_long(days):
    if not days:
        return ""
    if days < 11:
        return ngettext("about %(count)s day", "about %(count)s days", days) % {"count": days}
    weeks = round(days / 7)
    return ngettext("about %(count)s week", "about %(count)s weeks", weeks) % {"count": weeks}
