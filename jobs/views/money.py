"""Money of a job: payments, invoices, credit notes. The owner's alone, by the table of addresses."""

from django.contrib import messages
from django.shortcuts import get_object_or_404, redirect, render
from django.views.decorators.http import require_GET

from jobs.invoices import payments
from jobs.invoices.account import accepted_way, saved_account
from jobs.invoices.forms import CreditForm, InvoiceForm, PaymentForm
from jobs.invoices.issuing import Buyer
from jobs.models import Invoice, Payment, Shop
from jobs.money.sums import shown
from jobs.papers.sending import send_credit, send_invoice
from jobs.views.job import get_job
from parts.tools.addresses import address_for_others
from parts.tools.sent_only import sent_only


def pay(request, number):
    """Note a payment. One that is more than what is owed is saved, and told."""
    job = get_job(number)
    form = PaymentForm(request.POST or None, instance=Payment(job=job), account=saved_account(job))
    if form.is_valid():
        try:
            payments.take(payment=form.instance, by=request.user)
            _tell_saved(request, job)
            return redirect(f"{job.get_absolute_url()}#money")
        except payments.Contradiction as refusal:
            form.add_error("amount", str(refusal))
    context = {"job": job, "form": form, "heading": "Note a payment", "button": "Save"}
    return render(request, "jobs/job/form.html", context, status=422 if form.is_bound else 200)


def _tell_saved(request, job):
    account = saved_account(job)
    if account.too_much:
        more = shown(account.too_much, account.currency)
        messages.warning(request, f"Payment saved. That is {more} more than the job comes to.")
    else:
        messages.success(request, "Payment saved.")


@sent_only("jobs:job", "number")
def undo_payment(request, number, pk):
    """Undo a payment; it stays on the list."""
    job = get_job(number)
    try:
        payments.undo(payment=get_object_or_404(job.payments, pk=pk), by=request.user)
    except payments.Contradiction as refusal:
        messages.error(request, str(refusal))
    return redirect(f"{job.get_absolute_url()}#money")


def make_invoice(request, number):
    """Check what the invoice will say, and issue it."""
    job = get_job(number)
    form = InvoiceForm(request.POST or None, job=job)
    if form.is_valid():
        typed = form.cleaned_data
        buyer = Buyer(typed["buyer_name"], typed["buyer_address"], typed["buyer_country"])
        dates = {"supplied": typed["supplied"], "due_on": typed["due_on"]}
        address = address_for_others(request, job.get_absolute_url())
        try:
            made = send_invoice(
                job=job, buyer=buyer, address=address, by=request.user, language=typed["language"], **dates
            )
            messages.success(request, f"{made} issued. It stays as it is; the PDF is saved with the job.")
            return redirect(made)
        except payments.Contradiction as refusal:
            form.add_error(None, str(refusal))
    way = accepted_way(job.quotes.all())
    context = {"job": job, "form": form, "way": way, "quote": way and way.part.quote, "account": saved_account(job)}
    context |= {"standing": Invoice.standing(job), "shop": Shop.current()}
    return render(request, "jobs/money/make_invoice.html", context, status=422 if form.is_bound else 200)


def _invoice(number, pk):
    return get_object_or_404(Invoice.objects.select_related("job__customer", "corrects"), job__number=number, pk=pk)


@require_GET
def invoice(request, number, pk):
    """An issued invoice or credit note, with its papers and what corrects it."""
    return _page(request, _invoice(number, pk))


@sent_only("jobs:invoice", "number", "pk")
def credit(request, number, pk):
    """Issue a credit note over lines of an invoice."""
    invoice = _invoice(number, pk)
    form = CreditForm(request.POST, invoice=invoice)
    if form.is_valid():
        typed = form.cleaned_data
        address = address_for_others(request, invoice.job.get_absolute_url())
        try:
            made = send_credit(
                invoice=invoice, lines=list(typed["lines"]), reason=typed["reason"], address=address, by=request.user
            )
            messages.success(request, f"{made} issued. It stays as it is; the PDF is saved with the job.")
            return redirect(made)
        except payments.Contradiction as refusal:
            form.add_error(None, str(refusal))
    return _page(request, invoice, form)


def _page(request, invoice, form=None):
    may_credit = invoice.kind == Invoice.Kind.INVOICE and invoice.lines.filter(taken_back_by=None).exists()
    context = {
        "job": invoice.job,
        "invoice": invoice,
        "lines": invoice.lines.select_related("taken_back_by__invoice"),
        "taxes": [tax for tax in invoice.taxes.all() if tax.rate],
        "papers": invoice.papers.order_by("pk"),
        "form": form or (CreditForm(invoice=invoice) if may_credit else None),
    }
    return render(request, "jobs/money/invoice.html", context, status=422 if form else 200)
