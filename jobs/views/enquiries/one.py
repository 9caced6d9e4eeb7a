"""One enquiry: its answer, the words to send, and its end."""

from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils.translation import gettext_lazy as lazy
from django.views.decorators.http import require_GET

from jobs.enquiries import answering
from jobs.enquiries.forms import AnswerForm, CloseForm
from jobs.enquiries.texts import texts_for
from jobs.models import Enquiry, Shop
from jobs.papers.customers_sheet import customers_sheet_pdf
from parts.tools.sent_only import sent_only
from parts.tools.stale_guard import for_saving, one_transaction


@one_transaction
def enquiry(request, pk):
    """One enquiry: what is asked, the answer, and the words to send."""
    some = Enquiry.objects.select_related("customer", "case_family", "entry", "job")
    shown = get_object_or_404(for_saving(request, some), pk=pk)
    form = AnswerForm(request.POST or None, instance=shown, sees_money=request.sees_money)
    if form.is_valid() and shown.is_open:
        answering.answer(enquiry=form.save(commit=False))
        messages.success(request, lazy("The answer is saved. Copy the words below and send them yourself."))
        return redirect(shown)
    if form.is_bound and not shown.is_open:
        messages.error(
            request,
            lazy("This enquiry is no longer open ({state}). Nothing was changed.").format(
                state=shown.get_state_display()
            ),
        )
    if form.is_bound:
        shown.refresh_from_db()  # the form has put on it what was typed
    context = {
        "enquiry": shown,
        "form": form,
        "close_form": CloseForm(),
        "texts": texts_for(enquiry=shown, sees_money=request.sees_money),
        "currency": Shop.current().currency,
    }
    return render(request, "jobs/enquiries/enquiry.html", context, status=422 if form.is_bound else 200)


@sent_only("jobs:enquiry", "pk")
def close(request, pk):
    """Close an enquiry with the reason, or open it again."""
    shown = get_object_or_404(Enquiry, pk=pk)
    if request.POST.get("do") == "reopen":
        if shown.state == Enquiry.State.CLOSED:
            answering.reopen(enquiry=shown)
            messages.success(request, lazy("The enquiry is open again."))
        return redirect(shown)
    form = CloseForm(request.POST)
    if not shown.is_open:
        messages.error(request, lazy("This enquiry is no longer open."))
    elif form.is_valid():
        answering.close(enquiry=shown, reason=form.cleaned_data["reason"])
        messages.success(request, lazy("The enquiry is closed. It can be opened again here."))
    else:
        messages.error(request, " ".join(form.errors["reason"]))
    return redirect(shown)


@require_GET
def sheet(request, pk):
    """The sheet on which a customer with a calliper writes what they measure."""
    shown = get_object_or_404(Enquiry.objects.select_related("customer"), pk=pk)
    headers = {"Content-Disposition": 'inline; filename="measuring.pdf"'}
    return HttpResponse(customers_sheet_pdf(shown.customer), content_type="application/pdf", headers=headers)
