"""How the dial of a fit check will look: the customer's own dial where it was pictured, with the chosen hands."""

from __future__ import annotations

from math import atan2, degrees
from typing import TYPE_CHECKING, NamedTuple

from django.urls import reverse
from django.utils.safestring import mark_safe

from parts.fit.drawings.look import (
    TEN_PAST_TEN,
    DialPicture,
    HandLook,
    HandPicture,
    came_svg,
    look_side,
    look_svg,
)
from parts.models import PartPicture
from parts.models.pairing import HAND_FIELDS
from parts.pictured.reading import plane_of
from parts.tools.papers.pdf import to_png

if TYPE_CHECKING:
    from collections.abc import Callable

    from django.utils.safestring import SafeString

    from parts.fit import Report
    from parts.models import HandSet, Pairing

DAY = 24 * 60
PICTURE_PX = 1400
"""Width and height of the look as a picture, pixels."""


class Looks(NamedTuple):
    """The dial as it will be, and beside it the watch as it came, at one scale; each empty where nothing is known."""

    dial: SafeString
    came: SafeString


def looks_of(
    *,
    pairing: Pairing,
    report: Report,
    minutes: float = TEN_PAST_TEN,
    mark: str = "",
    scale: float | None = None,
    address: Callable[[PartPicture], str] | None = None,
) -> Looks:
    """Both at a time of day, minutes after midnight; `mark` and `scale` as in `look_svg`.

    `address` says where a picture lies; for a page where nothing else is said.
    """
    address = address or _on_a_page
    hands = {
        role: _hand_look(getattr(pairing, field) or pairing.hands, role, address) for role, field in HAND_FIELDS.items()
    }
    picture = _dial_picture("dial", pairing.dial, "dial-front", "hole", address)
    dial = look_svg(report, minutes=minutes, hands=hands, picture=picture, mark=mark, scale=scale)
    came = _dial_picture("case", pairing.case, "watch-front", "axis.0", address)
    return Looks(mark_safe(dial), mark_safe(came_svg(report, came, mark=mark, scale=scale) if dial and came else ""))


def look_png(*, pairing: Pairing, report: Report, minutes: float = TEN_PAST_TEN) -> bytes | None:
    """The dial as it will be, as a PNG of PICTURE_PX pixels square; None where nothing of it is known."""
    pictures: dict[str, bytes] = {}
    dial = looks_of(pairing=pairing, report=report, minutes=minutes, scale=1.0, address=on_paper(pictures)).dial
    return to_png(dial, side=look_side(report), pixels=PICTURE_PX, pictures=pictures) if dial else None


def on_paper(pictures: dict[str, bytes]) -> Callable[[PartPicture], str]:
    """Addresses for a paper, which is handed the `pictures` that its drawings name."""

    def address(picture: PartPicture) -> str:
        name = f"at-true-scale-{picture.pk}.jpg"
        if name not in pictures:
            with picture.flat.open("rb") as file:
                pictures[name] = file.read()
        return f"paper:///{name}"

    return address


def _on_a_page(picture: PartPicture) -> str:
    return reverse("parts:picture-flat", args=[picture.pk])


def _hand_look(hands: HandSet | None, role: str, address: Callable[[PartPicture], str]) -> HandLook:
    """A hand's shape and colour; its own picture, if there is one with its hole and tip, where no shape is chosen."""
    if hands is None:
        return HandLook()
    own = None if hands.shape else _hand_picture(hands, role, address)
    return HandLook(hands.shape or "baton", hands.colour or "steel", own)


def _hand_picture(hands, role, address):
    for picture, picks, half in _pictures("hands", hands, f"hand-{role}"):
        if picture.outline and {"hole", "tip.0"} <= picks.keys():
            (x, y, *_), (tx, ty) = picks["hole"], picks["tip.0"]
            return HandPicture(address(picture), half, picture.outline, (x, y), _direction(x, y, tx, ty))
    return None


def _dial_picture(of, part, subject, centre, address):
    """The newest picture on which the centre and 12 o'clock are picked."""
    for picture, picks, half in _pictures(of, part, subject):
        if {centre, "twelve.0"} <= picks.keys():
            (x, y, *_), (tx, ty) = picks[centre], picks["twelve.0"]
            return DialPicture(address(picture), half, x, y, _direction(x, y, tx, ty))
    return None


def _pictures(of, part, subject):
    """The pictures of a part or of what it is a copy of, newest first: accepted picks, half the side."""
    if part is None:
        return
    keys = [key for key in (part.pk, getattr(part, "copied_from_id", None)) if key]
    for picture in PartPicture.objects.in_drawers().filter(**{f"{of}__in": keys}, subject=subject).exclude(flat=""):
        plane = plane_of(picture)
        picks = {pick["key"]: pick["values"] for pick in picture.picks if not pick["proposed"]}
        yield picture, picks, plane.side / plane.scale / 2


def _direction(x, y, to_x, to_y):
    """Clockwise from straight up in the picture, degrees."""
    return degrees(atan2(to_x - x, y - to_y))


def minutes_of(text: str) -> float:
    """Minutes after midnight as an address has them; ten past ten where it has none."""
    return float(text) % DAY if text.isascii() and text.isdecimal() and len(text) < 6 else TEN_PAST_TEN
