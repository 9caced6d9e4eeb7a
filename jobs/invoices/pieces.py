"""What a holder order is in the words of a customer's paper, in the language that is spoken now."""

from __future__ import annotations

from typing import TYPE_CHECKING

from django.utils.translation import gettext
from django.utils.translation import gettext_noop as _

if TYPE_CHECKING:
    from jobs.models import HolderOrder

_KINDS = {"ring": _("Holder ring"), "spacer": _("Spacer")}


def kind_of(order: HolderOrder) -> str:
    """What the pieces are, such as "Holder ring"."""
    return gettext(_KINDS[order.design.kind])


def piece_of(order: HolderOrder) -> str:
    """One of the pieces: what for, which revision, of what."""
    words = gettext("{kind} for {family} with {movement}, revision {revision}").format(
        kind=kind_of(order),
        family=order.design.family,
        movement=order.design.movement,
        revision=order.design.revision,
    )
    return "; ".join([words, ", ".join(word for word in (order.material, order.colour) if word)])
