"""Who signed in, was refused, changed accounts, took data away, erased or restored it: when, and from where.

Nothing personal but the account: a mistyped name is not written down, since it may be a password.
"""

from __future__ import annotations

from datetime import timedelta
from typing import TYPE_CHECKING

from django.contrib.auth import get_user_model
from django.utils import timezone

from workshop.models import AccessEvent

if TYPE_CHECKING:
    from django.contrib.auth.models import User
    from django.http import HttpRequest

MOST = 20_000
"""Entries that are kept, the newest."""
AGAIN_AFTER = timedelta(minutes=15)
"""What somebody may cause as often as they like is written once in this time, so that it floods nothing."""
Kind = AccessEvent.Kind


def note(
    kind: Kind, *, request: HttpRequest | None = None, by: User | None = None, whom: User | None = None, about: str = ""
) -> AccessEvent:
    """Write an entry; without a request it happened at the machine itself. `by` is the request's user by default."""
    user = by or getattr(request, "user", None)
    entry = AccessEvent.objects.create(
        kind=kind,
        by=user if user is not None and user.is_authenticated else None,
        whom=whom,
        about=about[:120],
        address=request.META.get("REMOTE_ADDR", "")[:45] if request else "",
    )
    AccessEvent.objects.filter(pk__lte=entry.pk - MOST).delete()
    return entry


def note_wrong(kind: Kind, request: HttpRequest, name: str) -> None:
    """Write that a password or second step was wrong, with the account where there is one of that name."""
    note(kind, request=request, by=get_user_model().objects.filter(username=name).first())


def note_turned_away(request: HttpRequest, name: str) -> None:
    """Write that somebody was turned away unjudged, once in a while for an address."""
    if not _is_noted(kind=Kind.TURNED_AWAY, address=request.META.get("REMOTE_ADDR", "")[:45]):
        note_wrong(Kind.TURNED_AWAY, request, name)


def note_limit(request: HttpRequest, what: str) -> None:
    """Write that an account reached a limit, once in a while for each."""
    if not _is_noted(kind=Kind.LIMIT_REACHED, by=request.user, about=what):
        note(Kind.LIMIT_REACHED, request=request, about=what)


def _is_noted(**entry):
    return AccessEvent.objects.filter(at__gt=timezone.now() - AGAIN_AFTER, **entry).exists()
