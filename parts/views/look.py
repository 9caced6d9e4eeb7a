"""The page that shows the dial as it will be."""

from __future__ import annotations

from typing import TYPE_CHECKING

from django.shortcuts import get_object_or_404, render
from django.views.decorators.http import require_GET

from parts.models import Pairing
from parts.pairings.answer import answer
from parts.pairings.look import look_of, minutes_of

if TYPE_CHECKING:
    from django.http import HttpRequest, HttpResponse


@require_GET
def look(request: HttpRequest, pk: int) -> HttpResponse:
    """The dial with the chosen hands at a time of day."""
    pairing = get_object_or_404(Pairing.objects.with_parts(), pk=pk)
    report = answer(pairing).report
    minutes = minutes_of(request.GET.get("at", ""))
    context = {
        "pairing": pairing,
        "minutes": round(minutes),
        "time": f"{int(minutes // 60) % 12 or 12}:{int(minutes % 60):02d}",
        "drawing": look_of(pairing=pairing, report=report, minutes=minutes) if report else "",
    }
    return render(request, "parts/pairings/look.html", context)
