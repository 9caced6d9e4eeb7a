"""The page that shows the dial as it will be, and the same as a picture."""

from __future__ import annotations

from typing import TYPE_CHECKING

from django.http import Http404, HttpResponse
from django.shortcuts import get_object_or_404, render
from django.views.decorators.http import require_GET

from parts.models import Pairing
from parts.pairings.answer import answer
from parts.pairings.look import look_png, looks_of, minutes_of

if TYPE_CHECKING:
    from django.http import HttpRequest


@require_GET
def look(request: HttpRequest, pk: int) -> HttpResponse:
    """The dial with the chosen hands at a time of day, beside the watch as it came."""
    pairing = get_object_or_404(Pairing.objects.with_parts(), pk=pk)
    report = answer(pairing).report
    minutes = minutes_of(request.GET.get("at", ""))
    context = {
        "pairing": pairing,
        "minutes": round(minutes),
        "time": f"{int(minutes // 60) % 12 or 12}:{int(minutes % 60):02d}",
        "looks": looks_of(pairing=pairing, report=report, minutes=minutes) if report else None,
    }
    return render(request, "parts/pairings/look.html", context)


@require_GET
def look_picture(request: HttpRequest, pk: int) -> HttpResponse:
    """The dial as it will be, as a PNG to send."""
    pairing = get_object_or_404(Pairing.objects.with_parts(), pk=pk)
    report = answer(pairing).report
    picture = report and look_png(pairing=pairing, report=report, minutes=minutes_of(request.GET.get("at", "")))
    if not picture:
        raise Http404
    headers = {"Content-Disposition": f'attachment; filename="dial-as-it-will-be-{pk}.png"'}
    return HttpResponse(picture, content_type="image/png", headers=headers)
