"""Slowing down who guesses passwords.

Wrong passwords are counted by account and address, by address, and by account; from a number on, each further one
doubles the wait. An attempt counts as wrong before it is judged, so that many at the same time gain nothing.
On the machine itself the wait stays short: whoever sits there must be able to get in.
"""

from dataclasses import dataclass
from datetime import timedelta
from math import ceil

from django.db import connection, transaction
from django.utils import timezone

from workshop.accounts.this_machine import is_this_machine
from workshop.models import SignInFailure

COUNTED = timedelta(hours=1)
FIRST_WAIT_S, LONGEST_WAIT_S, LONGEST_HERE_S = 30, 900, 60
_LOCK = 7_316_204
"""The number of PostgreSQL's lock for counting attempts; any, but no other's."""
FREE = {"pair": 5, "address": 20, "name": 50}
"""Wrong passwords before the first wait."""


@dataclass
class Wait(Exception):
    """Too many wrong passwords: seconds to wait."""

    seconds: int

    def __str__(self):
        minutes = ceil(self.seconds / 60)
        span = f"{self.seconds} seconds" if self.seconds < 60 else f"{minutes} minute{'s' if minutes > 1 else ''}"
        return f"Too many wrong passwords. Wait {span}, then try again."


@transaction.atomic
def begin(*, name: str, address: str) -> SignInFailure:
    """Count an attempt as wrong for now; returns what `passed` takes. Raises Wait where it is not to be judged."""
    _one_at_a_time()
    now, name, address = timezone.now(), name.strip().lower()[:150], address[:45]
    SignInFailure.objects.filter(at__lt=now - COUNTED).delete()
    if (seconds := _wait(name, address, now)) > 0:
        raise Wait(seconds)
    return SignInFailure.objects.create(name=name, address=address, at=now)


def _one_at_a_time():
    """SQLite's write transactions wait for each other by themselves; PostgreSQL's are made to."""
    if connection.vendor == "postgresql":
        with connection.cursor() as cursor:
            cursor.execute("SELECT pg_advisory_xact_lock(%s)", [_LOCK])


def passed(attempt):
    """The password was right: forget the wrong ones of this account from this address."""
    SignInFailure.objects.filter(name=attempt.name, address=attempt.address).delete()


def _wait(name, address, now) -> int:
    failures = SignInFailure.objects
    here = is_this_machine(address)
    counted = {"pair": failures.filter(name=name, address=address), "address": failures.filter(address=address)}
    if not here:
        counted["name"] = failures.filter(name=name)
    return max(
        _rest(failures, FREE[by], LONGEST_HERE_S if here else LONGEST_WAIT_S, now) for by, failures in counted.items()
    )


def _rest(failures, free, longest, now) -> int:
    """Seconds until the next attempt; the clock set back makes it no longer than the longest."""
    count = failures.count()
    if count < free:
        return 0
    span = min(FIRST_WAIT_S * 2 ** min(count - free, 20), longest)
    return min(ceil(span - (now - failures.latest("at").at).total_seconds()), longest)
