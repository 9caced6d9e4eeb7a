"""Links that work once: for the owner's account at the first start, and for choosing a password."""

import hashlib
import secrets
from datetime import timedelta

from django.utils import timezone

from workshop.models import OneTimeLink

VALID = timedelta(days=3)
"""How long a link for choosing a password works; one for the first start works until the next start."""


def new_link(user=None) -> str:
    """Make a link and return its token, which is kept nowhere; an earlier link of the same user ends with it."""
    token = secrets.token_urlsafe(32)
    until = timezone.now() + VALID if user else None
    OneTimeLink.objects.filter(user=user).delete()
    OneTimeLink.objects.create(digest=digest(token), user=user, until=until)
    return token


def find_link(token: str, *, first: bool = False, lock: bool = False) -> OneTimeLink | None:
    """The link of a token that still works; None for any other. `first` asks for one that makes the owner's account."""
    links = OneTimeLink.objects.filter(digest=digest(token), user__isnull=first)
    if lock:
        links = links.select_for_update()
    link = links.first()
    if link is None or (link.until and link.until < timezone.now()):
        return None
    return None if link.user and not link.user.is_active else link


def digest(token: str) -> str:
    """How a secret stands in the database; it is random, so that its plain digest tells nothing."""
    return hashlib.sha256(token.encode()).hexdigest()
