"""Pages of the quick check: numbers typed into a draft of a fit check, which is there again whenever it is opened."""

from __future__ import annotations

from typing import TYPE_CHECKING
from uuid import UUID, uuid4

from django.contrib import messages
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.utils.translation import gettext_lazy as lazy
from django.views.decorators.http import require_safe

from parts.instruments.hand import in_hand
from parts.models import Pairing
from parts.pairings.answer import answer
from parts.pairings.chance import chance_context
from parts.quick.form import QuickForm
from parts.quick.keeping import KeepForm
from parts.quick.page import quick_context
from parts.quick.typing import retyped
from parts.tools.archiving import archive_as_asked
from parts.tools.sent_only import sent_only
from parts.tools.stale_guard import one_transaction

if TYPE_CHECKING:
    from django.http import HttpResponse

    from parts.tools.htmx_request import HtmxRequest


_NAMES = "names of a quick check"
"""The session's key of the names that were refused last, for who goes back to correct a number."""


_SAVED_AS = "saved quick check"
"""The session's key of the quick check that was saved last, with its fit check, for who goes back to it."""


@require_safe
def begin(request: HtmxRequest) -> HttpResponse:
    """A quick check from nothing. Nothing is stored before something is typed."""
    drafts = Pairing.objects.drafts().select_related("case__family", "movement")[:3]
    return _page(request, Pairing(draft_key=uuid4()), drafts=drafts)


@one_transaction
def quick_check(request: HtmxRequest, key: UUID) -> HttpResponse:
    """A quick check as it was left; what is sent is stored at once."""
    drafts = Pairing.objects.with_parts()
    if request.method == "POST":
        drafts = drafts.select_for_update(of=("self",))
    pairing = drafts.filter(draft_key=key).first()
    if request.method != "POST" and pairing is None and (saved := _saved_as(request, key)):
        return redirect("parts:pairing", saved)
    pairing = pairing or Pairing(draft_key=key)
    if request.method != "POST":
        return _page(request, pairing)
    form = QuickForm(request.POST, instance=pairing)
    pairing.typed = retyped(pairing.typed, request.POST, in_hand(request))
    if form.is_valid() or pairing.typed:
        pairing.save()
    if request.htmx:
        response = _page(request, pairing, form, "parts/quick/_swap.html")
        response["HX-Replace-Url"] = reverse("parts:quick", args=[key])
        return response
    return redirect("parts:quick", key) if form.is_valid() else _page(request, pairing, form)


def _saved_as(request, key):
    """The primary key of the fit check that this quick check was saved as last."""
    return request.session.get(_SAVED_AS, {}).get(str(key))


def _page(request, pairing, form=None, template="parts/quick/quick_check.html", **more):
    hand = in_hand(request)
    context = quick_context(pairing=pairing, answered=answer(pairing), hand=hand)
    context["swaps_list"] = request.POST.get("shown") != context["shown"]
    return render(request, template, context | {"form": form or QuickForm(instance=pairing), "hand": hand} | more)


@sent_only("parts:quick", "key")
def chance(request: HtmxRequest, key: UUID) -> HttpResponse:
    """What comes after the verdict: the chance, and what would make it go. Stores nothing."""
    pairing = get_object_or_404(Pairing.objects.with_parts(), draft_key=key)
    report = answer(pairing).report
    context = chance_context(report=report, pairing=pairing) if report and report.has_verdict else {}
    return render(request, "parts/quick/_chance.html", context)


@one_transaction
def keep(request: HtmxRequest, key: UUID) -> HttpResponse:
    """Make parts of what was typed, under a case family, and the draft a saved fit check."""
    if saved := _saved_as(request, key):
        return redirect("parts:pairing", saved)
    pairing = get_object_or_404(Pairing.objects.with_parts(), draft_key=key)
    form = KeepForm(request.POST or None, pairing=pairing, initial=request.session.get(_NAMES, {}).get(str(key)))
    if form.is_valid():
        saved = form.save()
        request.session.pop(_NAMES, None)
        request.session[_SAVED_AS] = {str(key): saved.pk}
        messages.success(request, lazy("{saved} is saved with its parts.").format(saved=saved))
        return redirect("parts:pairing", saved.pk)
    if form.is_bound:
        request.session[_NAMES] = {str(key): {name: request.POST.get(name, "") for name in form.fields}}
    return render(
        request, "parts/quick/keep.html", {"form": form, "pairing": pairing}, status=422 if form.is_bound else 200
    )


def propose_names(request: HtmxRequest, key: UUID, **names: object) -> None:
    """What the form that keeps a quick check begins with, by the names of its fields; `watch` goes into other names."""
    request.session[_NAMES] = {str(key): names}


@sent_only("parts:quick", "key")
def discard(request: HtmxRequest, key: UUID) -> HttpResponse:
    """Take a quick check off the lists, or bring it back."""
    pairing = get_object_or_404(Pairing, draft_key=key)
    archive_as_asked(request, pairing)
    if not pairing.archived:
        messages.success(request, lazy("The quick check is back."))
        return redirect("parts:quick", key)
    messages.success(request, lazy("The quick check is discarded. Archived fit checks still hold it."))
    return redirect("parts:pairings")
