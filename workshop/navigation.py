"""The main navigation, the same on every page."""

from django.conf import settings
from django.contrib.auth.models import AnonymousUser
from django.urls import reverse

from workshop.access import may

ENTRIES = [
    ("Bench", "jobs:bench"),
    ("Fit checks", "parts:pairings"),
    ("Holders", "parts:holders"),
    ("Parts library", "parts:index"),
    ("Customers", "jobs:customers"),
    ("Orders", "jobs:orders"),
    ("Shop", "jobs:shop"),
]


def navigation(request) -> dict:
    """Give every template the entries, the one that the page belongs to, and whether this is the demo."""
    user = getattr(request, "user", AnonymousUser())
    entries = [(label, reverse(name)) for label, name in ENTRIES if may(user, name)]
    above = [url for _, url in entries if request.path.startswith(url)]
    return {
        "navigation": entries,
        "navigation_current": max(above, key=len, default=None),
        "is_demo": settings.DIALSIDE_DEMO,
    }
