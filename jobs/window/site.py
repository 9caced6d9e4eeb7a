"""The site as the entries in the window make it, in each of its languages."""

from __future__ import annotations

from functools import partial

from babel import Locale
from babel.numbers import format_currency
from django.db.models import Prefetch
from django.utils.text import slugify
from django.utils.translation import gettext as _
from django.utils.translation import ngettext

from jobs.language.choices import CODES, settled, speaking
from jobs.language.formats import locale_code
from jobs.models import Shop, Window, WindowEntry, WindowHolder, WindowPhoto
from jobs.money.sums import shown
from jobs.window import holders
from jobs.window.drawings import drawings_of, on_page
from jobs.window.holders import ToOrder, picture_of, sizes_in_words
from jobs.window.pictures import Pictures
from jobs.window.pieces import Group, Picture, Piece, Price, Said
from jobs.window.proposals import in_another_language, proposed_window_words
from jobs.window.translations import WINDOW_WORDS

NEWEST = 6
"""Pieces on the first page, and in the news feed three times as many."""


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
        in_order = WindowPhoto.objects.select_related("photo").order_by("photo__place", "photo__pk")
        photos = Prefetch("photos", in_order.filter(photo__archived=False))
        entries = WindowEntry.objects.filter(shown=True).select_related("family", "movement", "job")
        self.entries = list(entries.prefetch_related(photos))
        with_design = WindowHolder.objects.filter(shown=True).select_related("design__family", "design__movement")
        self.holders = list(with_design.select_related("design__pairing"))
        self._slugs = {kind: _slugs(self.entries, kind) for kind in ("family", "movement")}
        self._contents: dict[str, Content] = {}
        self._drawings: dict[int, dict[str, str]] = {}
        self._pictured: dict[int, str] = {}

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

    def pictured(self, holder: WindowHolder) -> str:
        """The drawing of a holder, made once for every language."""
        if holder.pk not in self._pictured:
            self._pictured[holder.pk] = picture_of(holder.design)
        return self._pictured[holder.pk]

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
        self.holders = [self._holder(holder) for holder in site.holders]
        for groups in (self.families, self.movements):
            groups.sort(key=lambda group: group.name.casefold())

    @property
    def newest(self) -> list[Piece]:
        """The newest after the very newest, which leads the first page."""
        return self.pieces[1 : NEWEST + 1]

    def _said(self, record, name):
        """What was typed in this language, else the own words; a text that stands as proposed is ours in each."""
        own = getattr(record, name)
        typed = record.words.get(self.language, {}).get(name, "")
        if self.language == self.site.own:
            return Said(own)
        if typed:
            return Said(typed)
        if own and own.replace("\r\n", "\n") == proposed_window_words(self.site.own).get(name):
            return Said(proposed_window_words(self.language)[name])
        return Said(own, self.site.own)

    def _title(self, holder):
        """The title of a holder; one that stands as proposed is ours in each language."""
        said = self._said(holder, "title")
        if said.lang and holder.title == holders.proposed_title(holder.design, self.site.own):
            return Said(holders.proposed_title(holder.design, self.language))
        return said

    def _takes(self, entry):
        """What it takes, line by line; of the shop's own words those that stand as we propose them are ours too."""
        lines = self._said(entry, "takes").lines
        if not any(line.lang for line in lines):
            return lines
        words = {"written": self.site.own, "language": self.language}
        ours = in_another_language(entry.job, lines, **words)
        return [Said(ours[line]) if line in ours else line for line in lines]

    def _piece(self, entry, by_key):
        title = self._said(entry, "title")
        piece = Piece(
            code=entry.code,
            path=path_of(entry),
            title=title,
            story=self._said(entry, "story"),
            takes=self._takes(entry),
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

    def _holder(self, holder):
        design, top = holder.design, "../" * (1 + bool(self.site.prefix(self.language)))
        return ToOrder(
            code=holder.code,
            path=holders.path_of(holder),
            title=self._title(holder),
            story=self._said(holder, "story"),
            materials=self._said(holder, "materials").lines,
            price=_price(holder.price_from, self.site.shop.currency),
            sizes=sizes_in_words(design),
            drawing=on_page(self.site.pictured(holder), title=_("The part, drawn from behind"), top=top),
            case=design.family.name,
            movement=design.movement.name,
            updated=holder.updated,
        )

    def holders_of(self, name: str) -> list[ToOrder]:
        """Those for a case or a movement of that name."""
        return [holder for holder in self.holders if name in (holder.case, holder.movement)]

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
