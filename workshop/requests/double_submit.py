"""One form, one entry: a page's form that is sent a second time, such as by a double click, does nothing again.

The key is the page's own CSRF value, which is another one on each page that is shown, together with the address and
everything that was typed, files by their content. What htmx sends is left out: it may rightly send the same again from
one page.
"""

import hashlib
import time
from contextlib import suppress
from datetime import timedelta

from django.conf import settings
from django.contrib import messages
from django.db import DatabaseError
from django.shortcuts import redirect
from django.utils import timezone

from workshop.models import SentForm

KEPT = timedelta(days=1)
LOST = timedelta(seconds=60)
"""After this time without an answer the first sending counts as lost, such as with the power."""
PATIENCE_S = 10
ALREADY = "Already done. The second click changed nothing."
STILL = "Already sent and still being saved. Look at the page again in a moment."


class Once:
    """Answer a form's second sending with the way that the first one led. Stands behind the CSRF check."""

    def __init__(self, get_response):
        self.get_response = get_response

    def __call__(self, request):
        request.sent_form = None
        response = self.get_response(request)
        if request.sent_form:
            with suppress(DatabaseError):
                settle(key=request.sent_form, location=response.get("Location", ""))
        return response

    def process_view(self, request, view, args, kwargs):
        key = key_of(request)
        if not key:
            return None
        with suppress(DatabaseError):
            while not begin(key=key):
                location = wait_for(key=key)
                if location is not None:
                    messages.info(request, ALREADY if location else STILL)
                    return redirect(location or settings.LOGIN_REDIRECT_URL)
            request.sent_form = key
        return None


def key_of(request):
    """The key of a form that a signed-in person sent from a page; "" for anything else."""
    token = request.POST.get("csrfmiddlewaretoken") if request.method == "POST" and not request.htmx else ""
    if not token or not request.user.is_authenticated:
        return ""
    files = [(name, file.name, _digest(file)) for name, several in request.FILES.lists() for file in several]
    sent = (request.user.pk, request.get_full_path(), sorted(request.POST.lists()), files)
    return hashlib.sha256(repr(sent).encode()).hexdigest()


def _digest(file):
    digest = hashlib.sha256()
    for piece in file.chunks():
        digest.update(piece)
    file.seek(0)
    return digest.hexdigest()


def begin(*, key: str) -> bool:
    """Note that a form is being worked on; False where it is, or was, already."""
    now = timezone.now()
    SentForm.objects.filter(at__lt=now - KEPT).delete()
    SentForm.objects.filter(key=key, location="", at__lt=now - LOST).delete()
    return SentForm.objects.get_or_create(key=key, defaults={"at": now})[1]


def settle(*, key: str, location: str) -> None:
    """Keep where a form led; one that led nowhere, such as back to its own errors, may be sent again."""
    sent = SentForm.objects.filter(key=key)
    if location:
        sent.update(location=location)
    else:
        sent.delete()


def wait_for(*, key: str) -> str | None:
    """Where the first sending led, once it is done; None where it led nowhere, "" where it takes too long."""
    end = time.monotonic() + PATIENCE_S
    while time.monotonic() < end:
        location = SentForm.objects.filter(key=key).values_list("location", flat=True).first()
        if location != "":
            return location
        time.sleep(0.1)
    return ""
