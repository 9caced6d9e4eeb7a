"""How much one account may do in a day of what costs most: no script fills the disk or sends a thousand e-mails.

Counted by the hour, in the workshop's database, so that several web processes count together. The day is the 24 hours
up to now. What is refused counts for nothing.
"""

from __future__ import annotations

from contextlib import suppress
from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import TYPE_CHECKING

from django.contrib.auth import get_user_model
from django.db import DatabaseError, transaction
from django.db.models import F, Sum
from django.shortcuts import render
from django.utils import timezone
from django.utils.formats import date_format

from workshop.accounts import access_log
from workshop.models import AccountUse
from workshop.requests.proof import typed_in

if TYPE_CHECKING:
    from django.contrib.auth.models import User

DAY, HOUR = timedelta(hours=24), timedelta(hours=1)


@dataclass(frozen=True, slots=True)
class Quota:
    """A limit for one account in a day: of `noun` at most `most`, counted by `sent` forms and at `looked` addresses."""

    key: str
    noun: str
    most: int
    sent: tuple[str, ...] = ()
    looked: tuple[str, ...] = ()
    in_bytes: bool = False
    """Whether what is counted are bytes, and not how often something was done."""

    def shown(self, much: int) -> str:
        """An amount without its noun: 1.25 GB, or 1,250 times."""
        return f"{much / 1e9:.2f} GB" if self.in_bytes else f"{much:,}"


UPLOADS = Quota("uploads", "uploaded", 10_000_000_000, in_bytes=True)
QUOTAS = (
    UPLOADS,
    Quota(
        "exports",
        "exports",
        50,
        sent=("export", "jobs:customer-export", "jobs:window-write"),
        looked=("jobs:window-zip",),
    ),
    Quota("letters", "e-mails sent", 200, sent=("jobs:letter",)),
    Quota("pictures", "pictures measured", 500, sent=("parts:part-pictures", "parts:picture-read", "parts:scanner")),
    Quota(
        "papers",
        "papers and files to print",
        2000,
        sent=(
            "jobs:paper",
            "jobs:holder-order-paper",
            "jobs:quote-send",
            "jobs:invoice-add",
            "jobs:invoice-credit",
            "jobs:holder-order-invoice-add",
            "jobs:holder-order-invoice-credit",
        ),
        looked=(
            "jobs:fit-check-paper",
            "jobs:measuring-sheet",
            "jobs:enquiry-sheet",
            "parts:mat-paper",
            "parts:holder-file",
            "parts:coupon-stl",
            "parts:coupon-3mf",
        ),
    ),
    Quota(
        "sums",
        "chances and rankings worked out",
        5000,
        looked=(
            "parts:pairing-chance",
            "parts:pairing-new-chance",
            "parts:quick-chance",
            "parts:goes-in",
            "parts:goes-in-plan",
            "parts:goes-in-table",
            "parts:goes-in-pictures",
        ),
    ),
)
"""Each some ten times a busy day at the bench: common practice, no source."""


class Spent(Exception):
    """A limit that is reached: says how much was done, and `again`, when there is room for more."""

    def __init__(self, quota: Quota, done: int, wanted: int, again: datetime) -> None:
        super().__init__()
        self.quota, self.done, self.wanted, self.again = quota, done, wanted, again

    def __str__(self) -> str:
        quota, again = self.quota, date_format(timezone.localtime(self.again), "j M Y, H:i")
        more = f", and this would be {quota.shown(self.wanted)} more" if quota.in_bytes else ""
        return (
            f"{quota.shown(self.done)} {quota.noun} in the last 24 hours{more}: one account may do "
            f"{quota.shown(quota.most)}. There is room again from {again}."
        )


class Quotas:
    """Refuse with a page that carries on what was typed. Stands behind what tells that a form was sent twice."""

    def __init__(self, get_response):
        self.get_response = get_response

    def __call__(self, request):
        return self.get_response(request)

    def process_view(self, request, view, args, kwargs):
        if not request.user.is_authenticated:
            return None
        try:
            with suppress(DatabaseError):
                for quota, much in _wanted(request):
                    spend(user=request.user, quota=quota, much=much)
        except Spent as spent:
            access_log.note_limit(request, spent.quota.noun)
            context = {"sentence": str(spent)}
            if not request.htmx:  # which leaves the page as it is, with all that was typed
                context |= {"typed": typed_in(request), "files": _files(request)}
            return render(request, "workshop/quota.html", context, status=429)
        return None


def _wanted(request):
    """(quota, how much) of what a request asks for."""
    name, is_sent = request.resolver_match.view_name, request.method not in ("GET", "HEAD")
    for quota in QUOTAS:
        if name in quota.looked or (is_sent and name in quota.sent):
            yield quota, 1
    if is_sent and request.content_type == "multipart/form-data":
        yield UPLOADS, int(request.META.get("CONTENT_LENGTH") or 0)


def _files(request):
    """(field, names of the files) of what was chosen."""
    return [(name, ", ".join(file.name for file in several)) for name, several in request.FILES.lists()]


@transaction.atomic
def spend(*, user: User, quota: Quota, much: int) -> None:
    """Count something that an account is about to do. Raises Spent where that is more than its limit."""
    get_user_model().objects.select_for_update().get(pk=user.pk)
    now = timezone.now()
    AccountUse.objects.filter(user=user).exclude(hour__gt=now - DAY, hour__lte=now).delete()
    uses = AccountUse.objects.filter(user=user, what=quota.key)
    done = uses.aggregate(done=Sum("much", default=0))["done"]
    if done + much > quota.most:
        raise Spent(quota, done, much, _again(uses, done + much - quota.most, now))
    hour = now.replace(minute=0, second=0, microsecond=0)
    use, _ = AccountUse.objects.get_or_create(user=user, what=quota.key, hour=hour)
    AccountUse.objects.filter(pk=use.pk).update(much=F("much") + much)


def _again(uses, needed, now) -> datetime:
    """When so much of the day's use is old enough to count no more."""
    for use in uses.order_by("hour"):
        needed -= use.much
        if needed <= 0:
            return use.hour + DAY
    return now + DAY


def used(user: User) -> list[tuple[str, str, str]]:
    """(what, how much of it an account did in the last 24 hours, how much it may), of each limit."""
    now = timezone.now()
    uses = AccountUse.objects.filter(user=user, hour__gt=now - DAY, hour__lte=now)
    done = dict(uses.values_list("what").annotate(Sum("much")))
    return [
        (quota.noun[0].upper() + quota.noun[1:], quota.shown(done.get(quota.key, 0)), quota.shown(quota.most))
        for quota in QUOTAS
    ]
