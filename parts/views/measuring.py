"""How each dimension is taken: the page of all cards, and one card as a fragment."""

from __future__ import annotations

from typing import TYPE_CHECKING

from django.http import Http404
from django.shortcuts import redirect, render
from django.urls import reverse
from django.views.decorators.http import require_safe

from parts.fit.verdicts import part_in_words
from parts.library.kinds import KIND_OF
from parts.measuring.how import PARTS, cards_of, how_of, rules, station_of, stations, ways

if TYPE_CHECKING:
    from django.http import HttpResponse

    from parts.tools.htmx_request import HtmxRequest


@require_safe
def how_to_measure(request: HtmxRequest) -> HttpResponse:
    """The order of measuring, the ways, and all cards by part."""
    shelves = [
        {
            "part": part,
            "words": part_in_words(part).removeprefix("the "),
            "cards": [(card, station_of(card.path)) for card in cards_of(part)],
        }
        for part in PARTS
    ]
    outlines = [KIND_OF[part].outlines for part in PARTS]
    order = [(station, [how_of(path) for path in station.paths]) for station in stations()]
    context = {"rules": rules(), "ways": ways().values(), "order": order, "shelves": shelves, "outlines": outlines}
    return render(request, "parts/measuring/how_to_measure.html", context)


@require_safe
def card(request: HtmxRequest, path: str) -> HttpResponse:
    """The card of one dimension, as it opens beside its field; without a script, its place on the page of all."""
    try:
        how = how_of(path)
    except KeyError as error:
        raise Http404 from error
    if not request.htmx:
        return redirect(f"{reverse('parts:how-to-measure')}#{how.path}")
    outlines = KIND_OF[how.path.partition(".")[0]].outlines
    context = {"card": how, "station": station_of(how.path), "outlines": outlines}
    return render(request, "parts/measuring/_card.html", context)
