"""The private address of the workshop's calendar: made, renewed, ended, and read without signing in."""

import secrets

from django.db import transaction
from django.http import Http404, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.views.decorators.cache import never_cache
from django.views.decorators.http import require_GET

from jobs.after.calendar import calendar
from parts.tools.addresses import address_for_others
from workshop.accounts.links import digest
from workshop.models import CalendarAddress


@never_cache
def address(request):
    """The owner's page of the address; a new one is shown once, and ends the one before."""
    shown = ""
    if request.method == "POST":
        if request.POST.get("do") == "end":
            CalendarAddress.objects.all().delete()
            return redirect("calendar")
        token = _new_token(request.POST.get("with_names") == "on")
        path = reverse("calendar-feed", args=[token])
        shown = address_for_others(request, path) or request.build_absolute_uri(path)
    context = {
        "address": shown,
        "current": CalendarAddress.objects.first(),
        "reaches_others": bool(address_for_others(request, "/")),
    }
    return render(request, "workshop/calendar.html", context)


@never_cache
@require_GET
def feed(request, token):
    """The calendar, for who knows the address."""
    known = CalendarAddress.objects.filter(digest=digest(token)).first()
    if known is None:
        raise Http404
    return HttpResponse(calendar(with_names=known.with_names), content_type="text/calendar; charset=utf-8")


@transaction.atomic
def _new_token(with_names):
    token = secrets.token_urlsafe(32)
    CalendarAddress.objects.all().delete()
    CalendarAddress.objects.create(digest=digest(token), with_names=with_names)
    return token
