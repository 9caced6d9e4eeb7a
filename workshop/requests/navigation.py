"""The main navigation, the same on every page: what is opened all day, and the rest under "More"."""

from django.conf import settings
from django.contrib.auth.models import AnonymousUser
from django.urls import reverse

from workshop.requests.access import may

FIRST = [
    ("Bench", "jobs:bench"),
    ("Quick check", "parts:quick-new"),
    ("Fit checks", "parts:pairings"),
    ("Past swaps", "jobs:past"),
    ("Parts library", "parts:index"),
]
MORE = [
    ("What would fit?", "parts:goes-in-movements"),
    ("Holders", "parts:holders"),
    ("Enquiries", "jobs:enquiries"),
    ("Customers", "jobs:customers"),
    ("Looking after", "jobs:after"),
    ("Parts to buy", "jobs:orders"),
    ("Show window", "jobs:window"),
    ("Settings", "jobs:shop"),
]
INSTEAD = {"jobs:shop": ("Bench rules", "jobs:rules")}
"""What stands in the place of an entry that an account may not open."""


def navigation(request) -> dict:
    """Give every template the entries, the one that the page belongs to, and whether this is the demo.

    `navigation` has those that stand in the header, `navigation_more` those under "More".
    """
    user = getattr(request, "user", AnonymousUser())
    first, more = ([(label, reverse(name)) for label, name in _open_to(user, some)] for some in (FIRST, MORE))
    in_a_room = request.resolver_match is None or request.resolver_match.namespace
    above = [url for _, url in (*first, *more) if in_a_room and request.path.startswith(url)]
    return {
        "navigation": first,
        "navigation_more": more,
        "navigation_current": max(above, key=len, default=None),
        "is_demo": settings.DIALSIDE_DEMO,
    }


def _open_to(user, entries):
    """The entries that an account may open, with what stands in the place of others."""
    return filter(None, (entry if may(user, entry[1]) else INSTEAD.get(entry[1]) for entry in entries))
