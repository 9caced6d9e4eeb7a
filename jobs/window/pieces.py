"""What the pages of the site show: pieces, the cases and movements that they are of, texts, prices and pictures.

Templates of the site know nothing else: no job, no customer, no photo of the workshop.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING, NamedTuple

from django.utils.html import escape, format_html

if TYPE_CHECKING:
    import datetime as dt
    from collections.abc import Callable
    from decimal import Decimal

    from django.utils.safestring import SafeString

    from jobs.window.pictures import Shown


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
    takes: list[Said]
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
    def look_is_drawn(self) -> bool:
        """Whether the dial itself is drawn, in the colours of the part, since it has no picture."""
        return "<image" not in self.look

    @property
    def section(self) -> SafeString:
        """The section through the watch; empty where it is not shown."""
        return self.draw("section")

    @property
    def takes_in_a_line(self) -> str:
        """What it takes, for an attribute."""
        return ", ".join(self.takes)

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
