"""Sessions as devices that can be listed and signed out.

Until the browser closes, and no longer than twelve hours unused; on a device that its owner trusts, ninety days unused.
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
_NOTED_EVERY = timedelta(minutes=10)
_BROWSERS = (("Edg", "Edge"), ("OPR", "Opera"), ("Firefox", "Firefox"), ("Chrome", "Chrome"), ("Safari", "Safari"))
_SYSTEMS = ("Android", "iPhone", "iPad", "Windows", "Mac OS X", "Linux")


class SessionStore(db.SessionStore):
    """Keeps beside each session whose it is and from where."""

    @classmethod
    def get_model_class(cls):
        return Session

    def create_model_instance(self, data):
        row, device = super().create_model_instance(data), data.get("device", {})
        row.user_id = data.get("_auth_user_id")
        row.browser, row.address = device.get("browser", ""), device.get("address", "")
        row.trusted = device.get("trusted", False)
        row.since, row.used = (datetime.fromisoformat(device[at]) if at in device else None for at in ("since", "used"))
        return row


def sign_in_device(request: HttpRequest, *, trusted: bool) -> None:
    """Note the device that was just signed in on, and how long it stays so."""
    request.session["device"] = {"since": timezone.now().isoformat(), "trusted": trusted}
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
    """The user's signed-in devices, last used first, as (handle, row, is it `current`)."""
    rows = Session.objects.filter(user=user, expire_date__gt=timezone.now()).order_by("-used")
    return [(handle(row.session_key), row, row.session_key == current) for row in rows]


def sign_out_device(user, wanted):
    """Sign out one device by its handle; nothing where it is gone already."""
    keys = [key for key in user.sessions.values_list("session_key", flat=True) if handle(key) == wanted]
    user.sessions.filter(session_key__in=keys).delete()


def sign_out_all(user, but=None):
    """Sign out every device of the user, except the session `but`."""
    user.sessions.exclude(session_key=but).delete()


def handle(session_key) -> str:
    """What stands for a session in pages: its key opens the workshop and is never shown."""
    return hashlib.sha256(session_key.encode()).hexdigest()[:20]


def browser_word(agent: str) -> str:
    """A browser as a person says it: Firefox on Linux."""
    browser = next((word for sign, word in _BROWSERS if sign in agent), "")
    system = next((word for word in _SYSTEMS if word in agent), "")
    if not browser:
        return re.sub(r"[^\w ./-]", "", agent.split(" ", maxsplit=1)[0])[:60] or "unknown browser"
    return f"{browser} on {system.replace('Mac OS X', 'macOS')}" if system else browser
