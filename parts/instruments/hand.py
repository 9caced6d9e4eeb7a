"""The instrument in hand: the one that a person chose last, else the shop's first."""

from __future__ import annotations

from typing import TYPE_CHECKING

from parts.dimensions.in_hand import InHand
from parts.models import Instrument

if TYPE_CHECKING:
    from django.http import HttpRequest

FIELD = "in_hand"
"""What a form calls the choice of the instrument in hand, and the session what was chosen."""


def in_hand(request: HttpRequest) -> InHand:
    """The shop's instruments with the one in hand; a choice that is sent is remembered for the session."""
    instruments = list(Instrument.objects.filter(archived=False))
    sent = request.POST.get(FIELD, "")
    if sent in {str(each.pk) for each in instruments} and request.session.get(FIELD) != int(sent):
        request.session[FIELD] = int(sent)
    chosen = [each for each in instruments if each.pk == request.session.get(FIELD)]
    return InHand(instruments, next(iter(chosen or instruments), None))
