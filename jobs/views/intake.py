"""Logging a watch, its draft, and the page that follows."""

from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import redirect, render
from django.utils.translation import gettext_lazy as lazy
from django.views.decorators.http import require_GET

from jobs.intake import arrival
from jobs.intake.enquired import begun_of
from jobs.intake.form import IntakeForm
from jobs.intake.who import begun_for, hint_for, hint_for_family, picked
from jobs.language.choices import language_name
from jobs.models import PaperOut, Shop
from jobs.papers.making import paper_language
from jobs.past import take_over
from jobs.views.job import get_job
from jobs.views.photos import tell_faults
from parts.tools.pictures import TYPES, read_each
from parts.tools.sent_only import sent_only


def log(request):
    """The intake page; what is typed is kept as a draft until it is saved."""
    draft = arrival.draft_of(request.user)
    begun = draft.data | begun_for(request.GET) | take_over.begun_like(request.GET) | begun_of(request.GET)
    form = IntakeForm(request.POST or None, initial=begun, sees_money=request.sees_money)
    files, fault = request.FILES.getlist("photos"), ""
    if form.is_valid():
        pictures, faults = read_each(files)
        if pictures or not faults:
            job = arrival.log_watch(by=request.user, conditions=form.conditions, pictures=pictures, **form.facts)
            if pictures:
                words = lazy("Job {job.number} logged. Print the receipt and the tray label.")
            else:
                words = lazy(
                    "Job {job.number} logged. Print the receipt and the tray label, then take photos before you open "
                    "the watch."
                )
            messages.success(request, words.format(job=job))
            tell_faults(request, faults)
            return redirect("jobs:logged", job.number)
        fault = f"{faults[0]} Nothing is saved yet."
    if form.is_bound:
        arrival.keep_draft(user=request.user, data=_typed(request))
    context = {"form": form, "draft": draft, "photo_types": TYPES, "photo_fault": fault, "chosen": bool(files)}
    return render(request, "jobs/intake/log.html", context, status=422 if form.is_bound else 200)


@sent_only("jobs:log")
def draft(request):
    """Keep what is typed so far."""
    arrival.keep_draft(user=request.user, data=_typed(request))
    return HttpResponse(status=204)


@sent_only("jobs:log")
def drop_draft(request):
    """Begin the intake page again, empty."""
    arrival.drop_draft(user=request.user)
    return redirect("jobs:log")


def _typed(request):
    known = set(IntakeForm(sees_money=request.sees_money).fields)
    return {name: text[:5000] for name, text in request.POST.items() if name in known}


@require_GET
def likely(request, what):
    """Known customers or case families for what is typed, as options of the field's list, and whom it means."""
    if what == "customers":
        text = request.GET.get("customer", "").replace("\0", "")[:160]
        known, hint = hint_for(text)
        context = {
            "words": [picked(customer) for customer in arrival.likely_customers(text)],
            "hint": hint,
            "known": known,
        }
    else:
        text = request.GET.get("family", "").replace("\0", "")[:160]
        context = {
            "words": [family.name for family in arrival.likely_families(text)],
            "family_hint": hint_for_family(text),
        }
    return render(request, "jobs/intake/_suggestions.html", context | {"what": what})


@require_GET
def logged(request, number):
    """The watch is logged: its papers to print, and what was written down."""
    job = get_job(number)
    context = {"job": job, "conditions": job.conditions.all(), "currency": Shop.current().currency}
    context["language"] = language_name(paper_language(job=job, kind=PaperOut.Kind.RECEIPT))
    return render(request, "jobs/intake/logged.html", context)
