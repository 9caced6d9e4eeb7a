"""Sessions as devices that can be listed and signed out.

Until the browser closes, and no longer than twelve hours unused; on a device that its owner trusts, ninety days unused.
However much it is used, a session ends a week after signing in, on a trusted device a year after.

A session's key stands in the database as a digest: who reads a copy of it cannot sign in with what stands there.
"""

from __future__ import annotations

import hashlib
import re
from datetime import datetime, timedelta
from typing import TYPE_CHECKING

from django.contrib.sessions.backends import db
from django.utils import timezone

from workshop.models import Session

if TYPE_CHECKING:
    from django.http import HttpRequest

TRUSTED = timedelta(days=90)
LONGEST, LONGEST_TRUSTED = timedelta(days=7), timedelta(days=365)
_NOTED_EVERY = timedelta(minutes=10)
_BROWSERS = (("Edg", "Edge"), ("OPR", "Opera"), ("Firefox", "Firefox"), ("Chrome", "Chrome"), ("Safari", "Safari"))
_SYSTEMS = ("Android", "iPhone", "iPad", "Windows", "Mac OS X", "Linux")


class SessionStore(db.SessionStore):
    """Keeps beside each session whose it is and from where."""

    @classmethod
    def get_model_class(cls):
        return Session

    def load(self):
        data = super().load() if self.session_key else {}
        if is_over(data.get("device", {})):
            self.delete()
            self._session_key, data = None, {}
        return data

    def _get_session_from_db(self):
        row = Session.objects.filter(session_key=stored(self.session_key), expire_date__gt=timezone.now()).first()
        if row is None:
            self._session_key = None
        return row

    def exists(self, session_key):
        return super().exists(stored(session_key))

    def delete(self, session_key=None):
        if key := session_key or self.session_key:
            super().delete(stored(key))

    def create_model_instance(self, data):
        row, device = super().create_model_instance(data), data.get("device", {})
        row.session_key = stored(row.session_key)
        row.user_id = data.get("_auth_user_id")
        row.browser, row.address = device.get("browser", ""), device.get("address", "")
        row.trusted = device.get("trusted", False)
        row.since, row.used = (datetime.fromisoformat(device[at]) if at in device else None for at in ("since", "used"))
        return row


def stored(session_key: str | None) -> str | None:
    """How a key stands in the database; None for none."""
    return session_key and hashlib.sha256(session_key.encode()).hexdigest()[:40]


def is_over(device: dict) -> bool:
    """Tell whether the device was signed in on so long ago that it must be again."""
    longest = LONGEST_TRUSTED if device.get("trusted") else LONGEST
    return "since" in device and timezone.now() - datetime.fromisoformat(device["since"]) > longest


def sign_in_device(request: HttpRequest, *, trusted: bool) -> None:
    """Note the device that was just signed in on, and how long it stays so."""
    request.session["device"] = {"since": timezone.now().isoformat(), "trusted": trusted}
    request.session["proved"] = timezone.now().isoformat()
    if trusted:
        request.session.set_expiry(int(TRUSTED.total_seconds()))
    note_use(request)
    Session.objects.filter(expire_date__lt=timezone.now()).delete()


def note_use(request):
    """Write down every few minutes that a device is in use, from where; that also puts its end off."""
    now, device = timezone.now(), request.session.get("device", {})
    if "used" in device and abs(now - datetime.fromisoformat(device["used"])) < _NOTED_EVERY:
        return
    request.session["device"] = (
        {"since": now.isoformat()}
        | device
        | {
            "browser": browser_word(request.headers.get("User-Agent", "")),
            "address": request.META.get("REMOTE_ADDR", "")[:45],
            "used": now.isoformat(),
        }
    )


def devices(user, current=None):
    """The user's signed-in devices, last used first, as (handle, row, is it the one with the key `current`)."""
    rows = Session.objects.filter(user=user, expire_date__gt=timezone.now()).order_by("-used")
    lasting = [row for row in rows if not row.since or not is_over({"since": f"{row.since}", "trusted": row.trusted})]
    return [(_handle(row.session_key), row, row.session_key == stored(current)) for row in lasting]


def sign_out_device(user, wanted):
    """Sign out one device by its handle; nothing where it is gone already."""
    keys = [key for key in user.sessions.values_list("session_key", flat=True) if _handle(key) == wanted]
    user.sessions.filter(session_key__in=keys).delete()


def sign_out_all(user, but=None):
    """Sign out every device of the user, except the session with the key `but`."""
    user.sessions.exclude(session_key=stored(but)).delete()


def handle(session_key: str) -> str:
    """What stands for a session in pages: its key opens the workshop and is never shown."""
    return _handle(stored(session_key))


def _handle(stored_key):
    return hashlib.sha256(stored_key.encode()).hexdigest()[:20]


def browser_word(agent: str) -> str:
    """A browser as a person says it: Firefox on Linux."""
    browser = next((word for sign, word in _BROWSERS if sign in agent), "")
    system = next((word for word in _SYSTEMS if word in agent), "")
    if not browser:
        return re.sub(r"[^\w ./-]", "", agent.split(" ", maxsplit=1)[0])[:60] or "unknown browser"
    return f"{browser} on {system.replace('Mac OS X', 'macOS')}" if system else browser
