"""How the dial of a fit check will look: the customer's own dial where it was pictured, with the chosen hands."""

from __future__ import annotations

from math import atan2, degrees
from typing import TYPE_CHECKING

from django.urls import reverse
from django.utils.safestring import mark_safe

from parts.fit.drawings.look import TEN_PAST_TEN, DialPicture, HandLook, look_svg
from parts.models import PartPicture
from parts.pictured.reading import plane_of

if TYPE_CHECKING:
    from django.utils.safestring import SafeString

    from parts.fit import Report
    from parts.models import HandSet, Pairing

DAY = 24 * 60


def look_of(*, pairing: Pairing, report: Report, minutes: float = TEN_PAST_TEN) -> SafeString:
    """The dial at a time, minutes after midnight; empty where nothing of it is known."""
    own = _look_of_set(pairing.hands)
    looks = {"hour": own, "minute": own, "seconds": own}
    for name in ("hour", "minute", "seconds"):
        if other := getattr(pairing, f"{name}_hand_from", None):
            looks[name] = _look_of_set(other)
    return mark_safe(look_svg(report, minutes=minutes, hands=looks, picture=_picture_of(pairing)))


def _look_of_set(hands: HandSet | None) -> HandLook:
    return HandLook(hands.shape or "baton", hands.colour or "steel") if hands else HandLook()


def _picture_of(pairing):
    """The newest picture of the dial from the front on which its centre and 12 o'clock are picked."""
    pictures = PartPicture.objects.in_drawers().filter(dial=pairing.dial_id, subject="dial-front").exclude(flat="")
    for picture in pictures if pairing.dial_id else ():
        picks = {pick["key"]: pick["values"] for pick in picture.picks if not pick["proposed"]}
        if {"hole", "twelve.0"} <= picks.keys():
            (x, y, _), (tx, ty) = picks["hole"], picks["twelve.0"]
            plane = plane_of(picture)
            half = plane.side / plane.scale / 2
            address = reverse("parts:picture-flat", args=[picture.pk])
            return DialPicture(address, half, x, y, degrees(atan2(tx - x, y - ty)))
    return None


def minutes_of(text: str) -> float:
    """Minutes after midnight as an address has them; ten past ten where it has none."""
    return float(text) % DAY if text.isascii() and text.isdecimal() and len(text) < 6 else TEN_PAST_TEN
