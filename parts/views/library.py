"""Pages of the parts library; every kind of part goes through the same ones."""

from django.contrib import messages
from django.core.exceptions import ValidationError
from django.core.paginator import Paginator
from django.http import Http404, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.utils.translation import gettext_lazy as lazy
from django.views.decorators.http import require_safe
from django_htmx.http import trigger_client_event

from parts.demo import examples
from parts.dimensions.form_field import DimensionField
from parts.instruments.hand import in_hand
from parts.library import notes, part_records
from parts.library.editing import AUTO_ID, Editor
from parts.library.kinds import KINDS
from parts.library.measured import measure
from parts.library.part_records import key_of
from parts.library.picker import hits
from parts.library.showing import groups_of, line_at, list_cells, list_headings, measured_count
from parts.models import Pairing
from parts.pictured.forms import SUBJECTS_OF
from parts.sheets import doubts_of, pressure_on
from parts.tools.sent_only import sent_only
from parts.tools.stale_guard import STAMP, for_saving, one_transaction

PAGE = 50
HITS = 10


@require_safe
def index(request):
    """Every kind with its count; with ?q= what the search finds in each."""
    words = request.GET.get("q", "").strip()
    shelves = []
    for kind in KINDS.values():
        records = part_records.find(kind=kind, words=words)
        shelves.append({"kind": kind, "count": records.count(), "hits": records[:HITS] if words else []})
    context = {"shelves": shelves, "words": words, "most": HITS, "has_examples": examples.are_there()}
    context["had_examples"] = examples.were_there()
    return render(request, "parts/library/index.html", context)


@require_safe
def part_list(request, kind):
    """The records of one kind, searched with ?q=, archived ones with ?away=1."""
    words, away = request.GET.get("q", "").strip(), request.GET.get("away") == "1"
    page = Paginator(part_records.find(kind=kind, words=words, archived=away), PAGE).get_page(request.GET.get("page"))
    headings = list_headings(kind)
    lines = [
        {
            "record": record,
            "cells": list(zip(headings, list_cells(kind=kind, record=record), strict=True)),
            "measured": measured_count(kind=kind, record=record),
        }
        for record in page
    ]
    about = {"kind": kind, "headings": headings, "words": words, "away": away}
    return render(request, "parts/library/list.html", about | {"page": page, "lines": lines})


@require_safe
def detail(request, kind, pk):
    """Everything recorded of one part, and where it is used."""
    return _detail(request, kind, _record(kind, pk))


@one_transaction
def measured_here(request, kind, pk, path):
    """Measure one number of a part on its page: its line with a field, and stored the line again; a fault by the field.

    `look` judges nothing: what is in hand was changed.
    """
    record = _record(kind, pk)
    line = line_at(kind=kind, record=record, path=path)
    if line is None:
        raise Http404
    text, fault = request.POST.get("text", ""), ""
    if request.method == "POST" and "look" not in request.POST:
        try:
            measure(part=record, path=path, text=text, stood=request.POST.get("stood", ""), hand=in_hand(request))
        except ValidationError as error:
            fault = error.messages[0]
        else:
            if not request.htmx:
                return redirect(f"{reverse('parts:detail', args=[kind, pk])}#{path}")
            record = _record(kind, pk)
            context = {"line": line_at(kind=kind, record=record, path=path), "is_back": True}
            context["measured"] = measured_count(kind=kind, record=record)
            return render(request, "parts/library/_line.html", context | {"kind": kind, "record": record})
    hand = in_hand(request)
    field = DimensionField.at(path, hand=hand)
    context = {"here": path, "typed": text, "fault": fault, "hand": hand, "to_come": field.to_come}
    if not request.htmx:
        return _detail(request, kind, record, **context)
    context |= {"kind": kind, "record": record, "line": line, "is_back": True}
    context |= {"here": ""} if "back" in request.GET else {}
    return render(request, "parts/library/_line.html", context)


def _detail(request, kind, record, **measuring):
    shown = {
        "groups": groups_of(kind=kind, record=record, sees_money=request.sees_money),
        "measured": measured_count(kind=kind, record=record),
        "used": part_records.used_in(record),
        "is_pictured": kind.part in SUBJECTS_OF,
        "doubts": doubts_of(record),
        "pressure": pressure_on(record),
        "notes": notes.notes_for([record]),
        "has_notes": kind.slug in notes.HOLDERS,
        "notes_away": notes.archived_of(record) if kind.slug in notes.HOLDERS else [],
    }
    status = 422 if measuring.get("fault") else 200
    return render(
        request, "parts/library/detail.html", {"kind": kind, "record": record} | shown | measuring, status=status
    )


@require_safe
def pick(request, kind):
    """The parts that the box of a picker finds: a fragment."""
    name, role = request.GET.get("name", ""), request.GET.get("role", "")
    words = request.GET.get(f"{name}-words", "").strip()
    matching, more = hits(kind=kind, words=words, role=role)
    context = {"kind": kind, "name": name, "words": words, "hits": matching, "more": more}
    return render(request, "parts/library/_hits.html", context)


def add(request, kind):
    """Enter a new part; a name may come along from where it was looked for."""
    return _enter(request, kind, kind.model(name=request.GET.get("name", "")[:80]), f"Add a {kind.singular}")


@one_transaction
def edit(request, kind, pk):
    """Change a part."""
    record = _record(kind, pk, for_saving(request, kind.model.objects.all()))
    return _enter(request, kind, record, f"Edit {record}")


@sent_only("parts:add", "kind")
def look(request, kind, pk=None):
    """Say at each number of a form what becomes of it, and what is wrong or unlikely; nothing is saved."""
    record = kind.model() if pk is None else _record(kind, pk)
    editor = Editor(kind=kind, record=record, data=request.POST, hand=in_hand(request), auto_id=_auto_id(request))
    editor.look()
    return render(request, "parts/library/_told_of_all.html", {"editor": editor})


@sent_only("parts:detail", "kind", "pk")
def copy(request, kind, pk):
    """Make a copy as the start of a new part, and open it."""
    source = _record(kind, pk)
    made = part_records.new_from(kind=kind, record=source)
    messages.success(
        request,
        lazy("This is a copy of {source}. Give it a name of its own and change what differs.").format(source=source),
    )
    return redirect("parts:edit", kind, made.pk)


@sent_only("parts:detail", "kind", "pk")
def archive(request, kind, pk, away):
    """Put a part away, or bring it back."""
    record = _record(kind, pk)
    part_records.archive(record=record, archived=away)
    done = (
        "is archived: it still shows where it is used, but is no longer offered" if away else "is back in the library"
    )
    messages.success(request, lazy("{record} {done}.").format(record=record, done=done))
    return redirect("parts:detail", kind, pk)


def _record(kind, pk, records=None):
    records = kind.model.objects.all() if records is None else records
    return get_object_or_404(part_records.with_rows(kind=kind, records=records), pk=pk)


def _enter(request, kind, record, title):
    add_row = request.POST.get("add_row", "")
    data, hand = request.POST or None, in_hand(request)
    editor = Editor(
        kind=kind,
        record=record,
        data=data,
        files=request.FILES or None,
        add_row=add_row,
        hand=hand,
        sees_money=request.sees_money,
        auto_id=_auto_id(request),
        into=(data or request.GET).get("into", ""),
    )
    if add_row and request.htmx and add_row in editor.rows:
        return render(request, "parts/library/_row_list.html", {"rows": editor.rows[add_row]})
    if request.method == "POST" and not add_row and editor.is_valid():
        saved = editor.save()
        if _is_within(request):
            return trigger_client_event(HttpResponse(status=204), "part-added", {"key": saved.pk, "name": str(saved)})
        messages.success(request, lazy("{saved} is saved.").format(saved=saved))
        return redirect(_place(kind, saved.pk, _asked_by(request)))
    wrong = request.method == "POST" and not add_row
    if request.method != "POST":
        editor.tell_doubts()
    stamp = editor.stamp if wrong else request.POST.get(STAMP, editor.stamp)
    context = {"kind": kind, "record": record, "editor": editor, "title": title, "wrong": wrong, "stamp": stamp}
    fit_check = _asked_by(request)
    context |= {"hand": hand, "within": _is_within(request), "fit_check": fit_check}
    context["away"] = _place(kind, record.pk, fit_check)
    if _is_within(request):
        return render(request, "parts/library/_new_part.html", context)
    return render(request, "parts/library/edit.html", context, status=422 if wrong else 200)


def _place(kind, pk, fit_check):
    """Where the form of a part leads to: to the fit check that asked for it, else to the part, else to its kind."""
    if fit_check:
        return reverse("parts:pairing", args=[fit_check.pk])
    return reverse("parts:detail", args=[kind, pk]) if pk else reverse("parts:list", args=[kind])


def _asked_by(request):
    """The fit check that a number is typed for, which saving leads back to; None for none."""
    key = key_of((request.POST or request.GET).get("fit_check", ""))
    return Pairing.objects.filter(pk=key).first() if key else None


def _is_within(request):
    """Whether a part is entered within another page, which goes on with it."""
    return bool(request.htmx) and (request.POST or request.GET).get("within") == "page"


def _auto_id(request):
    return "new_%s" if _is_within(request) else AUTO_ID
