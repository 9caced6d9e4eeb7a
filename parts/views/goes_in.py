"""Pages of What would go in?: the library ranked for what is given, and cases against movements."""

from django.core.paginator import Paginator
from django.http import Http404
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.views.decorators.http import require_safe

from parts.goes_in import page as shown
from parts.goes_in.forms import FORMS, PlanForm, TableForm
from parts.goes_in.given import of_family
from parts.goes_in.lines import line_of, whole_report
from parts.goes_in.matrix import matrix
from parts.goes_in.plan import plans
from parts.goes_in.question import Question, rank
from parts.goes_in.search import Search
from parts.goes_in.table import table_page
from parts.instruments.hand import in_hand
from parts.library import part_records
from parts.library.kinds import BROUGHT_IN, KIND_OF, KINDS
from parts.library.notes import notes_for
from parts.models import Pairing
from parts.pairings.page import drawings, missing, phrase_of, waiting
from parts.pairings.worksheet import typed_changes

LINES = 20
_PARTS = {slug: part for part, slug in BROUGHT_IN.items()}


@require_safe
def goes_in(request, kind=KINDS["movements"]):
    """The library's movements, hand sets, stems or crowns, best first, for what is given in the address."""
    if start := _start(request.GET):
        return redirect(f"{reverse('parts:goes-in', args=[kind])}?{start}")
    part, changes = _part(kind), typed_changes(request.GET)
    form = FORMS[part](request.GET, part=part)
    sound = form.is_valid() or not form.is_bound
    pairing = form.pairing
    question = Question.of(part, pairing, changes)
    context = {"kind": kind, "form": form, "question": question, "kinds": [KINDS[slug] for slug in _PARTS]}
    context |= {"given": shown.given_in_words(question, pairing), "given_address": shown.address_of(pairing, changes)}
    context["faults"] = shown.fault_words(question)
    context["notes"] = notes_for([pairing.case, pairing.dial, pairing.movement])
    if sound and not question.is_open:
        context |= _ranking(request, kind, form, question)
    if not request.htmx:
        context["numbers"] = shown.number_groups(question, pairing, changes)
    return render(request, "parts/goes_in/_ranking.html" if request.htmx else "parts/goes_in/ranking.html", context)


@require_safe
def pictures(request, kind, pk):
    """The drawings of one part of a ranking, to be opened below its line."""
    part = _part(kind)
    form = FORMS[part](request.GET, part=part)
    form.is_valid()
    question = Question.of(part, form.pairing, typed_changes(request.GET))
    record = get_object_or_404(part_records.with_rows(kind=kind, records=kind.model.objects), pk=pk)
    report = whole_report(question, record)
    drawn = drawings(report) | {"missing": missing(report)} if report else {}
    return render(request, "parts/goes_in/pictures.html", {"kind": kind, "record": record, "report": report} | drawn)


@require_safe
def table(request):
    """Which case families could take which movements: every case against every movement, a page at a time."""
    form = TableForm(request.GET or None)
    form.is_valid()
    compared = matrix(cases=form.cases, movements=form.movements, hands=form.chosen_hands)
    context = {"form": form, "kinds": [KINDS[slug] for slug in _PARTS]} | table_page(compared, form, request.GET)
    return render(request, "parts/goes_in/_table.html" if request.htmx else "parts/goes_in/table.html", context)


@require_safe
def plan(request):
    """The plans for a case and a dial that no other beats: movement, hands, stem and crown together."""
    if start := _start(request.GET, of_pairing=shown.plan_start):
        return redirect(f"{reverse('parts:goes-in-plan')}?{start}")
    form = PlanForm(request.GET)
    sound = form.is_valid() or not form.is_bound
    changes = typed_changes(request.GET)
    search = Search.of(form.pairing, changes)
    context = {"form": form, "search": search, "kinds": [KINDS[slug] for slug in _PARTS]}
    context |= {"given_address": shown.address_of(form.pairing, changes)}
    context |= {"given": shown.given_in_words(search.question, search.given)}
    context["faults"] = shown.fault_words(search.question)
    if sound and not search.is_open:
        context |= _plans(search, in_hand(request))
    if not request.htmx:
        context["numbers"] = shown.number_groups(search.question, search.given, changes)
    return render(request, "parts/goes_in/_plans.html" if request.htmx else "parts/goes_in/plan.html", context)


def _plans(search, hand):
    front = plans(search.given, search.changes)
    return {
        "front": front,
        "weighed": f"{front.weighed:,}",
        "combinations": f"{front.combinations:,}",
        "lines": [shown.plan_line(plan, search.changes, hand) for plan in front.plans],
        "undecided": [shown.plan_line(plan, search.changes, hand) for plan in front.undecided],
        "lacking": [KIND_OF[part] for part in front.lacking],
        "refused": front.error and phrase_of(front.error.key),
    }


def _ranking(request, kind, form, question):
    ranking = rank(question, form.records, form.keep)
    page = Paginator(ranking.keys.tolist(), LINES).get_page(request.GET.get("page"))
    records = part_records.with_rows(kind=kind, records=kind.model.objects).in_bulk(list(page))
    hand = in_hand(request)
    lines = [line_of(question, records[key], hand) for key in page if key in records]
    tricks = notes_for(records.values())
    for line in lines:
        line.notes.extend(note for note in tricks if note.movement_id == line.record.pk)
    refused = ranking.error and phrase_of(ranking.error.key)
    judged = next((line.report for line in lines if line.report), None)
    return {
        "ranking": ranking,
        "page": page,
        "lines": lines,
        "waiting": waiting(judged) if judged else [],
        "refused": refused,
        "sieved": form.is_sieving,
    }


def _part(kind):
    try:
        return _PARTS[kind.slug]
    except KeyError:
        raise Http404 from None


def _start(data, of_pairing=shown.start):
    """The address of what a kept pairing (?pairing=) or a case family (?family=) gives; "" where none is named."""
    if text := data.get("pairing", ""):
        pairing = get_object_or_404(Pairing, pk=part_records.key_of(text))
        return of_pairing(pairing)
    if text := data.get("family", ""):
        return shown.address_of(of_family(part_records.key_of(text)), {}) or "words="
    return ""
