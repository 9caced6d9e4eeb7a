"""The main navigation, the same on every page."""

from django.conf import settings
from django.contrib.auth.models import AnonymousUser
from django.urls import reverse

from workshop.requests.access import may

ENTRIES = [
    ("Bench", "jobs:bench"),
    ("Fit checks", "parts:pairings"),
    ("What would fit?", "parts:goes-in-movements"),
    ("Past swaps", "jobs:past"),
    ("Holders", "parts:holders"),
    ("Parts library", "parts:index"),
    ("Customers", "jobs:customers"),
    ("Parts to buy", "jobs:orders"),
    ("Settings", "jobs:shop"),
]
INSTEAD = {"jobs:shop": ("Bench rules", "jobs:rules")}
"""What stands in the place of an entry that an account may not open."""


def navigation(request) -> dict:
    """Give every template the entries, the one that the page belongs to, and whether this is the demo."""
    user = getattr(request, "user", AnonymousUser())
    open_to = [entry if may(user, entry[1]) else INSTEAD.get(entry[1]) for entry in ENTRIES]
    entries = [(entry[0], reverse(entry[1])) for entry in open_to if entry]
    in_a_room = request.resolver_match is None or request.resolver_match.namespace
    above = [url for _, url in entries if in_a_room and request.path.startswith(url)]
    return {
        "navigation": entries,
        "navigation_current": max(above, key=len, default=None),
        "is_demo": settings.DIALSIDE_DEMO,
    }
