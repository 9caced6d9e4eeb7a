"""Quotes of a job: drafted from options, edited, sent, answered; and the orders that follow."""

from django.contrib import messages
from django.db import transaction
from django.shortcuts import get_object_or_404, redirect, render
from django.views.decorators.http import require_POST

from jobs import quoting
from jobs.models import Order, Quote
from jobs.money import shown
from jobs.papers.making import keep_paper
from jobs.photos import store_pictures
from jobs.quote_forms import AnswerForm, LineFormSet, OrderForm, QuoteForm
from jobs.views.job import get_job


@require_POST
def draft(request, number):
    """Draft a quote for the options ticked, side by side; the chosen one where none is."""
    job = get_job(number)
    wanted = job.options.select_related("job__case_family", "pairing__movement").filter(dropped=False)
    ticked = [int(pk) for pk in request.POST.getlist("option") if pk.isdigit()]
    options = list(wanted.filter(pk__in=ticked) if ticked else wanted.filter(chosen=True))[:3]
    if not options:
        messages.error(request, "Choose an option of this job first; a quote is drawn from its fit report.")
        return redirect(job)
    quote = quoting.propose(job=job, options=options, by=request.user)
    return redirect("jobs:quote", number, quote.version)


def _quote(number, version):
    found = Quote.objects.select_related("job__customer", "job__case_family").prefetch_related("parts__lines")
    return get_object_or_404(found, job__number=number, version=version)


def quote(request, number, version):
    """One version: edited as a draft, read and answered once it is out."""
    found = _quote(number, version)
    if found.is_frozen:
        return _frozen_page(request, found)
    form = QuoteForm(request.POST or None, instance=found)
    sets = [LineFormSet(request.POST or None, instance=part, prefix=f"part{part.pk}") for part in found.parts.all()]
    if request.method == "POST" and all([form.is_valid(), *(one.is_valid() for one in sets)]):
        with transaction.atomic():
            form.save()
            for one in sets:
                one.save()
        messages.success(request, "The quote is saved.")
        return redirect("jobs:quote", number, version)
    context = _context(found) | {"form": form, "sets": list(zip(found.parts.all(), sets, strict=True))}
    return render(request, "jobs/quote_edit.html", context, status=422 if request.method == "POST" else 200)


def _context(found, **more):
    older = found.job.quotes.filter(version=found.version - 1).prefetch_related("parts__lines").first()
    ways = []
    for part in found.parts.all():
        part.quote = found
        sums = quoting.sums_of(part)
        ways.append((part, sums, [(tax.rate, shown(tax.tax, found.currency)) for tax in sums.taxes]))
    return {
        "job": found.job,
        "quote": found,
        "ways": ways,
        "older": older,
        "differences": quoting.differences(older, found) if older else [],
        "papers": found.papers.all(),
    } | more


def _frozen_page(request, found, form=None, status=200):
    context = _context(found, form=form or AnswerForm(initial={"said_by": found.job.customer.name}))
    return render(request, "jobs/quote.html", context, status=status)


@require_POST
def send(request, number, version):
    """Freeze the draft as it goes out."""
    try:
        found = quoting.send(quote=_quote(number, version), by=request.user)
        address = request.build_absolute_uri(found.job.get_absolute_url())
        keep_paper(job=found.job, kind="quote", address=address, by=request.user, quote=found)
        messages.success(request, "The quote is sent: it stays as it is now. The job waits for the customer.")
    except (quoting.Frozen, quoting.Unpriced) as refusal:
        messages.error(request, str(refusal))
    return redirect("jobs:quote", number, version)


@require_POST
def next_version(request, number, version):
    """Go on with a copy as the next version."""
    made = quoting.next_version(quote=_quote(number, version), by=request.user)
    return redirect("jobs:quote", number, made.version)


@require_POST
def answer(request, number, version):
    """Record the customer's answer to this version."""
    found, form = _quote(number, version), AnswerForm(request.POST, request.FILES)
    if request.POST.get("do") == "take-back":
        quoting.take_back_decision(quote=found, by=request.user)
        return redirect("jobs:quote", number, version)
    if not form.is_valid():
        return _frozen_page(request, found, form, 422)
    said = {name: form.cleaned_data[name] for name in ("how", "said_by", "on", "note")} | {"by": request.user}
    try:
        if request.POST.get("do") == "refuse":
            quoting.refuse(quote=found, **said)
        else:
            part = found.parts.filter(pk=request.POST.get("part") or None).first() or found.parts.first()
            taken = {int(pk) for pk in request.POST.getlist("taken") if pk.isdigit()}
            expired = form.cleaned_data["although_expired"]
            quoting.accept(quote=found, part=part, taken=taken, although_expired=expired, **said)
    except (quoting.Expired, quoting.Frozen) as refusal:
        form.add_error("although_expired" if isinstance(refusal, quoting.Expired) else None, str(refusal))
        return _frozen_page(request, found, form, 422)
    if signature := form.cleaned_data["signature"]:
        told = f"Signed: version {found.version}"
        store_pictures(job=found.job, pictures=[signature], by=request.user, caption=told)
    messages.success(request, "The answer is recorded.")
    return redirect("jobs:quote", number, version)


def order(request, number, pk=None):
    """Add or change a part that is to be bought for the job."""
    job = get_job(number)
    found = get_object_or_404(Order, pk=pk, job=job) if pk else Order(job=job)
    form = OrderForm(request.POST or None, instance=found)
    if form.is_valid():
        form.save()
        messages.success(request, "The order is stored.")
        return redirect(job)
    context = {"job": job, "form": form, "heading": "A part to buy", "button": "Store it"}
    return render(request, "jobs/job_form.html", context, status=422 if form.is_bound else 200)
