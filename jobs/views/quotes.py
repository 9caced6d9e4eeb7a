"""Quotes of a job: drafted from options, edited, sent, answered; and the orders that follow."""

from django.contrib import messages
from django.shortcuts import get_object_or_404, redirect, render
from django.utils.translation import gettext_lazy as lazy

from jobs.language.choices import LANGUAGES
from jobs.models import Order, Quote
from jobs.orders import ONWARD, save_order
from jobs.papers.sending import send_quote
from jobs.quotes import differences, versions
from jobs.quotes.forms import AnswerForm, DraftEditor, OrderForm
from jobs.quotes.texts import texts_of
from jobs.quotes.ways import ways_of
from jobs.views.job import get_job
from parts.library.part_records import key_of
from parts.tools.sent_only import sent_only
from parts.tools.stale_guard import for_saving, one_transaction

_ACCEPTED = "Accepted. What has to be bought for it is now under Parts to buy."
_DECLINED = "Declined. Make a new version, or close the job and note why: the next customer may ask the same."
MOST_WAYS = 3
"""Options that one quote sets side by side."""
SENT = (
    "Marked as sent and locked; the PDF is saved with the job. Dialside e-mails nothing: print it, or attach the PDF. "
    "The job now waits for the customer."
)
TOO_LATE = (
    "This version was marked as sent while you were editing, and is locked. Make a new version and copy your changes "
    "over."
)


@sent_only("jobs:job", "number")
def draft(request, number):
    """Draft a quote for the options ticked, side by side; the chosen one where none is."""
    job = get_job(number)
    wanted = job.options.select_related("job__case_family", "pairing__movement").filter(ruled_out=False)
    ticked = request.POST.getlist("option")
    options = [option for option in wanted if (str(option.pk) in ticked if ticked else option.chosen)]
    if len(options) > MOST_WAYS:
        messages.error(
            request,
            lazy("{count} options are ticked; a quote takes {limit} at most. Tick fewer.").format(
                count=len(options), limit=MOST_WAYS
            ),
        )
        return redirect(job)
    if not options:
        messages.error(request, lazy("Choose an option first: the quote starts from its fit check."))
        return redirect(job)
    quote = versions.propose(job=job, options=options, by=request.user)
    return redirect("jobs:quote", number, quote.version)


def _quote(number, version, held_by=None):
    """One version of the job's quotes; its row is held where the request `held_by` is to save something."""
    quotes = Quote.objects.select_related("job__customer", "job__case_family").prefetch_related(
        "parts__lines", "parts__option__pairing"
    )
    quotes = for_saving(held_by, quotes)
    return get_object_or_404(quotes, job__number=number, version=version)


@one_transaction
def quote(request, number, version):
    """One version: edited as a draft, read and answered once it is out."""
    quote = _quote(number, version, held_by=request)
    if quote.is_frozen:
        return _typed_too_late(request, quote) if request.method == "POST" else _frozen_page(request, quote)
    editor = DraftEditor(quote=quote, data=request.POST or None)
    if request.method == "POST" and editor.is_valid():
        editor.save()
        if request.POST.get("do") == "send":
            return send(request, number=number, version=version)
        messages.success(request, lazy("Quote saved."))
        return redirect("jobs:quote", number, version)
    return _draft_page(request, quote, editor)


@sent_only("jobs:quote", "number", "version")
def sums(request, number, version):
    """The sums of a draft as it is typed; nothing is saved."""
    quote = _quote(number, version)
    editor = DraftEditor(quote=quote, data=request.POST)
    editor.is_valid()
    context = {"quote": quote, "ways": editor.ways, "wrong": editor.wrong, "form": editor.form}
    return render(request, "jobs/quotes/_typed_sums.html", context)


def _draft_page(request, quote, editor):
    context = _context(quote, editor=editor, form=editor.form)
    if editor.form.is_bound:
        context["ways"] = editor.ways
    return render(request, "jobs/quotes/edit.html", context, status=422 if request.method == "POST" else 200)


def _typed_too_late(request, quote):
    """What was typed for a draft that has gone out meanwhile stays in its fields; nothing is stored."""
    editor = DraftEditor(quote=quote, data=request.POST)
    editor.form.add_error(None, TOO_LATE)
    return _draft_page(request, quote, editor)


def _context(quote, **more):
    older = quote.job.quotes.filter(version=quote.version - 1).prefetch_related("parts__lines").first()
    return {
        "job": quote.job,
        "quote": quote,
        "languages": LANGUAGES,
        "ways": ways_of(quote=quote),
        "older": older,
        "differences": differences.differences(older, quote) if older else [],
        "terms": differences.terms_changed(older, quote) if older else [],
        "papers": quote.papers.filter(made__gte=quote.sent) if quote.sent else [],
    } | more


def _frozen_page(request, quote, form=None, status=200):
    blank = AnswerForm(initial={"said_by": quote.job.customer.name}, ways=quote.parts.all())
    context = _context(quote, form=form or blank)
    texts = texts_of(quote=quote, ways=context["ways"]) if quote.state == Quote.State.SENT else []
    context |= {"taken": _taken(request), "texts": texts}
    return render(request, "jobs/quotes/quote.html", context, status=status)


def _taken(request):
    """The optional lines that are ticked in what was sent."""
    return {key_of(text) for text in request.POST.getlist("taken")} - {None}


@sent_only("jobs:quote", "number", "version")
def send(request, number, version):
    """Freeze the draft as it goes out."""
    try:
        draft_quote = _quote(number, version)
        address = request.build_absolute_uri(draft_quote.job.get_absolute_url())
        send_quote(quote=draft_quote, address=address, by=request.user)
        messages.success(request, SENT)
    except (versions.Frozen, versions.NotReady) as refusal:
        messages.error(request, str(refusal))
    return redirect("jobs:quote", number, version)


@sent_only("jobs:quote", "number", "version")
def next_version(request, number, version):
    """Go on with a copy as the next version."""
    made = versions.next_version(quote=_quote(number, version), by=request.user)
    return redirect("jobs:quote", number, made.version)


@sent_only("jobs:quote", "number", "version")
def answer(request, number, version):
    """Record the customer's answer to this version."""
    quote, do = _quote(number, version), request.POST.get("do", "accept")
    if do == "undo":
        return _undo_answer(request, quote)
    form = AnswerForm(request.POST, request.FILES, ways=quote.parts.all(), accepting=do != "refuse")
    if not form.is_valid():
        return _frozen_page(request, quote, form, 422)
    said = {name: form.cleaned_data[name] for name in ("how", "said_by", "on", "note", "signature")}
    said["by"] = request.user
    try:
        if do == "refuse":
            versions.refuse(quote=quote, **said)
        else:
            more = {name: form.cleaned_data[name] for name in ("part", "although_expired") if name in form.fields}
            versions.accept(quote=quote, taken=_taken(request), **more, **said)
    except (versions.Expired, versions.Frozen) as refusal:
        form.add_error("although_expired" if isinstance(refusal, versions.Expired) else None, str(refusal))
        return _frozen_page(request, quote, form, 422)
    messages.success(request, _DECLINED if do == "refuse" else _ACCEPTED)
    return redirect("jobs:quote", number, version)


def _undo_answer(request, quote):
    try:
        versions.undo_answer(quote=quote, by=request.user)
    except versions.Frozen as refusal:
        messages.error(request, str(refusal))
    return redirect("jobs:quote", quote.job.number, quote.version)


@one_transaction
def order(request, number, pk=None):
    """Add or change a part that is to be bought for the job."""
    job = get_job(number)
    order = Order(job=job) if pk is None else get_object_or_404(for_saving(request, job.orders.all()), pk=pk)
    onward = ONWARD.get(order.state) if pk and "noted" in request.GET else None
    form = OrderForm(request.POST or None, instance=order, initial={"state": onward} if onward else None)
    if form.is_valid():
        save_order(order=form.save(commit=False), by=request.user)
        messages.success(request, lazy("Part to buy saved."))
        return redirect(job)
    context = {"job": job, "form": form, "heading": "A part to buy", "button": "Save"}
    return render(request, "jobs/job/form.html", context, status=422 if form.is_bound else 200)
