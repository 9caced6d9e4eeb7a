"""Pages of the fit check."""

from __future__ import annotations

import json
from typing import TYPE_CHECKING
from uuid import uuid4

from django.contrib import messages
from django.core.exceptions import ValidationError
from django.core.paginator import Paginator
from django.http import HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.utils.translation import gettext_lazy as lazy
from django.views.decorators.http import require_GET

from parts.fit import SheetError
from parts.instruments.hand import in_hand
from parts.library.part_records import key_of
from parts.models import Pairing
from parts.models.pairing import OTHER_HANDS, PARTS
from parts.pairings.answer import answer, save_with_report
from parts.pairings.chance import chance_context
from parts.pairings.compare import compare
from parts.pairings.form import PairingForm, UploadForm
from parts.pairings.measured_now import FIELD as MEASURED
from parts.pairings.measured_now import OTHER_PART, STORE, STORE_TRIED, same_part, store
from parts.pairings.page import HAS, SHOWN, report_context, worksheet_context
from parts.pairings.paper import file_name
from parts.pairings.placing import field_of
from parts.pairings.trying import ASKED, PLACE, settled, trying
from parts.pairings.unsaved import forget, remember, remembered
from parts.pairings.worksheet import PREFIX, typed_changes
from parts.sheets import records_from_json
from parts.tools.archiving import archive_as_asked
from parts.tools.sent_only import sent_only
from parts.tools.stale_guard import STAMP, for_saving, one_transaction

if TYPE_CHECKING:
    from collections.abc import Callable
    from uuid import UUID

    from django.http import QueryDict

    from parts.tools.htmx_request import HtmxRequest

MOST_COMPARED = 4


@require_GET
def pairings(request):
    """All pairings in use, newest first, and the way to compare some of them; those put away with ?away=1."""
    away = request.GET.get("away") == "1"
    matching = Pairing.objects.filter(archived=away).select_related("case__family", "movement")
    matching = matching if away else matching.saved()
    page = Paginator(matching.order_by("-updated", "-pk"), 50).get_page(request.GET.get("page"))
    drafts = Pairing.objects.drafts().select_related("case", "movement")[:50]
    context = {"page": page, "most": MOST_COMPARED, "away": away, "drafts": drafts}
    return render(request, "parts/pairings/list.html", context)


def fit_check(request, pk=None):
    """The fit check of a saved pairing or of a new one: changed, asked "what if", saved."""
    if request.POST.get("do") == "save":
        return one_transaction(_fit_check)(request, pk=pk, saving=True)
    return _fit_check(request, pk=pk)


@sent_only("parts:pairing", "pk")
def tried(request: HtmxRequest, pk: int) -> HttpResponse:
    """The fit check with other numbers tried, for whoever may only look. Saves nothing."""
    return _fit_check(request, pk=pk)


@one_transaction
def draft(request, key):
    """The fit check of a draft: what is chosen is stored at once, so that it is there again."""
    return _fit_check(request, key=key, saving=request.POST.get("do") == "save")


@sent_only("parts:pairing", "pk")
def measured(request: HtmxRequest, pk: int) -> HttpResponse:
    """Store a number that was measured now with its part; the page stays as it is, with the new answer."""
    pairing = get_object_or_404(Pairing.objects.with_parts(), pk=pk)
    return after_measuring(request, pk, lambda **facts: store(pairing=pairing, hand=in_hand(request), **facts))


def after_measuring(request: HtmxRequest, pk: int, store_it: Callable[..., object]) -> HttpResponse:
    """Store what was measured by `store_it`, and answer with the fit check as its page has it; a fault by its field."""
    was_tried = STORE_TRIED in request.POST
    path = request.POST.get(STORE_TRIED if was_tried else STORE, "")[:200]
    text = request.POST.get(f"{PREFIX if was_tried else MEASURED}{path}", "")
    data, fault = request.POST.copy(), None
    try:
        _refuse_other_part(request, pk, path)
        store_it(path=path, text=text)
        _show_as_saved(data, pk, path)
        data.pop(f"{PREFIX}{path}", None)
        data.pop(SHOWN, None)
    except ValidationError as error:
        fault = (path, text, error.messages[0])
    return _fit_check(request, pk=pk, data=data, measured_fault=fault, was_tried=was_tried)


def _show_as_saved(data, pk, path):
    """Put the part that the number went into in place of the page's own, which a job may have got a copy of."""
    saved = Pairing.objects.get(pk=pk)
    name = field_of(saved, path)
    if name in data:
        data[name] = str(getattr(saved, f"{name}_id") or "")


def _refuse_other_part(request, pk, path):
    """Raise ValidationError where the page shows another part than is saved: the number would go into the wrong one."""
    if not {*PARTS} & {*request.POST}:
        return
    saved, shown = (Pairing.objects.with_parts().get(pk=pk) for _ in range(2))
    PairingForm(request.POST, instance=shown).is_valid()
    if not same_part(saved, shown, path):
        raise ValidationError(OTHER_PART)


def _fit_check(
    request: HtmxRequest,
    *,
    pk: int | None = None,
    key: UUID | None = None,
    saving: bool = False,
    data: QueryDict | None = None,
    measured_fault: tuple[str, str, str] | None = None,
    was_tried: bool = False,
) -> HttpResponse:
    data = settled(request.POST if data is None else data)
    left = remembered(request, pk) if pk and not data else None
    if pk and left is not None and request.GET.get("discard") == "1":
        forget(request, pk)
        return redirect("parts:pairing", pk)
    pairings_read = Pairing.objects.with_parts()
    pairings_read = for_saving(request, pairings_read) if saving or key else pairings_read
    if pk is not None:
        pairing = get_object_or_404(pairings_read, pk=pk)
        key = pairing.draft_key
        if key and not request.htmx and request.method == "GET":
            return redirect("parts:draft", key)
    else:
        key = key or uuid4()
        pairing = pairings_read.filter(draft_key=key).first() or Pairing(draft_key=key)
    saved_report, kept_name = None if pairing.draft_key else pairing.report, str(pairing)
    form = PairingForm(data or left or None, instance=pairing, saving=saving, initial=_chosen(request))
    complete = form.is_valid()
    if not form.is_bound and not pairing.pk:
        pairing = _begun_with(form, typed_changes(request.GET))
        pairing.draft_key = key
    answered = answer(pairing)
    if saving and complete and not answered.faults:
        if pairing.typed_parts:
            pairing.save()
            return redirect("parts:quick-keep", key)
        pairing.draft_key, pairing.typed = None, {}
        if pk is not None:
            forget(request, pk)
        save_with_report(pairing=pairing, answered=answered)
        onward = "design the holder ring, add it to a job, or print it"
        if pairing.is_of_a_job:
            onward = f"go on with job {pairing.made_for}"
        messages.success(request, lazy("{pairing} is saved. Next: {onward}.").format(pairing=pairing, onward=onward))
        return redirect("parts:pairing", pk=pairing.pk)
    is_unsaved = _keep_unsaved(request, form, data) if data and not saving else left is not None
    hand = in_hand(request)
    context = {"pairing": pairing, "is_unsaved": is_unsaved, "is_left": left is not None} | report_context(
        answered=answered,
        pairing=pairing,
        saved_report=saved_report,
        hand=hand,
        has=data.getlist(HAS) if request.htmx else (),
    )
    context["tried_fault" if was_tried else "measured_fault"] = measured_fault
    context["is_stored"] = was_tried and measured_fault is None
    slot = trying(data or request.GET, answered=answered, pairing=pairing, hand=hand)
    fits = {row.check.key for row in context.get("fitting", ())}
    context |= {"trying": slot, "trying_fits": slot.place == "check" and slot.key in fits}
    if _shows_numbers(request, data, pairing):
        context |= worksheet_context(answered=answered, pairing=pairing)
    if request.htmx:
        sent = request.POST
        context["exchanged"] = [form[name] for name in (*PARTS, *OTHER_HANDS) if sent.get(name) != data.get(name)]
        response = render(request, "parts/pairings/_swap.html", context)
        if pairing.draft_key and pairing.pk:
            response["HX-Replace-Url"] = reverse("parts:draft", args=[key])
        return response
    stamp = form.stamp if saving else request.POST.get(STAMP, form.stamp)
    context |= {
        "form": form,
        "kept_name": kept_name,
        "numbers_address": reverse("parts:draft-numbers", args=[key]) if key else reverse("parts:numbers", args=[pk]),
        "stamp": stamp,
        "action": reverse("parts:draft", args=[key]) if key else reverse("parts:pairing", args=[pk]),
        "part_fields": [form[name] for name in PARTS],
        "single_hands": form.single_hands,
    }
    return render(request, "parts/pairings/pairing.html", context, status=422 if saving else 200)


@sent_only("parts:pairings")
def chance(request, pk=None):
    """What comes after the verdict of what the page shows: the chance, and what would make it go. Stores nothing."""
    pairing = get_object_or_404(Pairing.objects.with_parts(), pk=pk) if pk is not None else Pairing()
    PairingForm(request.POST, instance=pairing).is_valid()
    report = answer(pairing).report
    given = {"pairing": pairing, "hand": in_hand(request), "has": request.POST.getlist(HAS)}
    context = chance_context(report=report, **given) if report and report.has_verdict else {}
    return render(request, "parts/pairings/_chance.html", context)


def _shows_numbers(request, data, pairing):
    """Whether the page's numbers come along: where they are asked for, and for other parts than it shows."""
    if request.htmx:
        return SHOWN in data and data[SHOWN] != pairing.part_keys
    return "numbers" in request.GET or request.GET.get(PLACE) == "numbers"


def numbers(request: HtmxRequest, pk: int | None = None, key: UUID | None = None) -> HttpResponse:
    """All numbers of the parts that the page shows, or those to try that hang on what was pressed. Stores nothing."""
    pairing = Pairing.objects.with_parts().filter(**({"pk": pk} if pk else {"draft_key": key})).first() or Pairing()
    PairingForm(request.POST or None, instance=pairing).is_valid()
    answered = answer(pairing)
    if ASKED in request.POST:
        hand = in_hand(request)
        context = {"trying": trying(request.POST, answered=answered, pairing=pairing, hand=hand), "hand": hand}
        return render(request, "parts/pairings/_trying.html", context)
    return render(request, "parts/pairings/_worksheet.html", worksheet_context(answered=answered, pairing=pairing))


def _keep_unsaved(request, form, data):
    """Store a draft as it stands now; of a saved fit check remember what was changed. Returns whether that waits."""
    pairing = form.instance
    if pairing.draft_key:
        if pairing.chosen:
            pairing.save()
        return False
    if form.has_changed() or pairing.what_if != form.saved_numbers:
        remember(request, pairing.pk, data)
        return True
    forget(request, pairing.pk)
    return False


def _chosen(request):
    """Parts named in the address of a new pairing (?case=3), for links from elsewhere."""
    wanted = {name: key_of(request.GET.get(name, "")) for name in (*PARTS, *OTHER_HANDS)}
    chosen = {name: key for name, key in wanted.items() if key}
    return chosen | ({"no_seconds_hand": True} if "no_seconds_hand" in request.GET else {})


def _begun_with(form, numbers):
    """A new pairing, not saved, of the parts and numbers that the address names."""
    named = form.initial.keys() & {*PARTS, *OTHER_HANDS}
    parts = {name: form.fields[name].queryset.filter(pk=form.initial[name]).first() for name in named}
    return Pairing(what_if=numbers, no_seconds_hand=form.initial["no_seconds_hand"], **parts)


@require_GET
def sheet_json(request, pk):
    """The pairing sheet with its what-if changes, for download."""
    pairing = get_object_or_404(Pairing.objects.with_parts(), pk=pk)
    body = json.dumps(answer(pairing).sheet, indent=2, ensure_ascii=False)
    disposition = f'inline; filename="{file_name(pairing, "json")}"'
    return HttpResponse(body, content_type="application/json", headers={"Content-Disposition": disposition})


@require_GET
def compare_pairings(request):
    """Up to four pairings side by side."""
    wanted = [key for text in request.GET.getlist("pairing") if (key := key_of(text))][:MOST_COMPARED]
    by_key = {p.pk: p for p in Pairing.objects.with_parts().filter(pk__in=wanted)}
    chosen = [by_key[pk] for pk in dict.fromkeys(wanted) if pk in by_key]
    if len(chosen) < 2:
        messages.error(
            request, lazy("Tick 2 to {MOST_COMPARED} fit checks to compare them.").format(MOST_COMPARED=MOST_COMPARED)
        )
        return redirect("parts:pairings")
    return render(request, "parts/pairings/compare.html", {"comparison": compare(chosen)})


def upload(request):
    """Make the records of an uploaded pairing sheet."""
    form = UploadForm(request.POST or None, request.FILES or None)
    if form.is_valid():
        try:
            pairing = records_from_json(form.cleaned_data["sheet"], name=form.cleaned_data["name"])
        except SheetError as error:
            form.add_error("sheet", lazy("{error} Nothing was saved.").format(error=error))
        else:
            messages.success(request, lazy("{pairing.name} and its parts are saved.").format(pairing=pairing))
            return redirect("parts:pairing", pk=pairing.pk)
    return render(request, "parts/pairings/upload.html", {"form": form}, status=422 if form.is_bound else 200)


@sent_only("parts:pairing", "pk")
def archive(request, pk):
    """Archive a fit check, or bring it back."""
    pairing = get_object_or_404(Pairing, pk=pk)
    archive_as_asked(request, pairing)
    messages.success(
        request,
        (lazy("{pairing} is archived.") if pairing.archived else lazy("{pairing} is back.")).format(pairing=pairing),
    )
    return redirect("parts:pairing", pk=pk)
