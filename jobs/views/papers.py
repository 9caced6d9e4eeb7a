"""Papers of a job: made, kept, opened again."""

from django.contrib import messages
from django.core.exceptions import PermissionDenied
from django.http import Http404, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.utils.translation import gettext_lazy as lazy
from django.views.decorators.http import require_GET

from jobs.models import PaperOut, Shop
from jobs.money.visibility import refuse_money
from jobs.papers.fit_check import fit_check_pdf
from jobs.papers.labels import SIZES, place_on
from jobs.papers.making import NothingToPrint, keep_paper
from jobs.papers.measuring_sheet import measuring_pdf
from jobs.views.job import get_job
from parts.instruments.hand import in_hand
from parts.library.part_records import key_of
from parts.models import Pairing
from parts.pairings.answer import answer
from parts.pairings.page import changed_numbers
from parts.pairings.paper import file_name
from parts.tools.addresses import address_for_others
from parts.tools.kept_files import kept_file_response
from parts.tools.sent_only import sent_only


@require_GET
def papers(request, number):
    """All papers of a job that were made."""
    job = get_job(number)
    return render(request, "jobs/papers/papers.html", {"job": job, "papers": job.papers.select_related("by", "quote")})


@sent_only("jobs:papers", "number")
def make(request, number, kind):
    """Make a paper, keep it, and open it."""
    job = get_job(number)
    if kind not in (*PaperOut.MADE_BY_HAND, PaperOut.Kind.QUOTE):
        raise Http404
    quote = None
    if kind == PaperOut.Kind.QUOTE:
        if not request.sees_money:
            raise PermissionDenied
        version = request.GET.get("version", "")
        quote = next((sent for sent in job.quotes.all() if str(sent.version) == version), None)
        if quote is None:
            raise Http404
    address = address_for_others(request, job.get_absolute_url())
    wanted = {}
    if kind == PaperOut.Kind.LABEL:
        wanted["place"] = place_on(SIZES[Shop.current().label], request.POST.get("place", ""))
    try:
        made = keep_paper(
            job=job,
            kind=kind,
            address=address,
            by=request.user,
            quote=quote,
            sees_money=request.sees_money,
            language=request.POST.get("language", ""),
            **wanted,
        )
    except NothingToPrint as refusal:
        messages.error(request, str(refusal))
        return redirect(job)
    return redirect("jobs:saved-paper", number, made.pk)


@require_GET
def saved(request, pk, number="", order=None):
    """A paper as it went out, of the job of that `number` or of that holder `order`."""
    made = get_object_or_404(PaperOut, pk=pk, **({"job__number": number} if number else {"holder_order": order}))
    refuse_money(made, request)
    if not made.file:
        raise Http404
    name = made.file.name.rsplit("/", 1)[-1]
    kind = "application/xml" if made.kind == PaperOut.Kind.ELECTRONIC else "application/pdf"
    return kept_file_response(made.file, name=name, content_type=kind)


@require_GET
def fit_check(request, pk):
    """The report of a fit check with its drawings to scale, as a PDF. Nothing is kept."""
    pairing = get_object_or_404(Pairing.objects.with_parts(), pk=pk)
    answered = answer(pairing)
    if answered.report is None:
        messages.error(request, lazy("There is no report to print: {answered.error}").format(answered=answered))
        return redirect("parts:pairing", pk=pk)
    changed = changed_numbers(answered, pairing)
    content = fit_check_pdf(pairing=pairing, report=answered.report, hand=in_hand(request), changed=changed)
    return _shown(content, file_name(pairing, "pdf"))


@require_GET
def measuring_sheet(request):
    """A measuring sheet to print: blank, or of a fit check, saved or not (?pairing=3). Nothing is kept."""
    pairing, address = None, ""
    if "pairing" in request.GET:
        pairing = get_object_or_404(Pairing.objects.with_parts(), pk=key_of(request.GET["pairing"]))
        address = address_for_others(request, reverse("parts:pairing", args=[pairing.pk]))
    content = measuring_pdf(pairing=pairing, address=address)
    return _shown(content, "measuring-sheet.pdf")


def _shown(content, name):
    headers = {"Content-Disposition": f'inline; filename="{name}"'}
    return HttpResponse(content, content_type="application/pdf", headers=headers)
