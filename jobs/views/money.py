"""Money of a job or of a holder order: payments, invoices, credit notes. The owner's alone, by the table of addresses.

Each view takes the `number` of a job or the key of an `order`.
"""

from django.contrib import messages
from django.shortcuts import get_object_or_404, redirect, render
from django.utils.translation import gettext_lazy as lazy
from django.views.decorators.http import require_GET

from jobs.holder_orders.listing import with_all
from jobs.invoices import payments
from jobs.invoices.account import saved_account
from jobs.invoices.bill import bill_of
from jobs.invoices.forms import CreditForm, InvoiceForm, OrderInvoiceForm, PaymentForm
from jobs.invoices.issuing import Buyer
from jobs.invoices.ubl import missing, missing_of_shop
from jobs.models import HolderOrder, Invoice, Payment, Shop
from jobs.money.sums import shown
from jobs.papers.sending import send_credit, send_invoice
from jobs.views.job import get_job
from parts.tools.sent_only import sent_only


def _of(number, order):
    return get_job(number) if number else get_object_or_404(with_all(HolderOrder.objects.all()), pk=order)


def pay(request, number="", order=None):
    """Note a payment. One that is more than what is owed is saved, and told."""
    of = _of(number, order)
    form = PaymentForm(request.POST or None, instance=Payment(**{of.OWNER: of}), account=saved_account(of))
    if form.is_valid():
        try:
            payments.take(payment=form.instance, by=request.user)
            _tell_saved(request, of)
            return redirect(f"{of.get_absolute_url()}#money")
        except payments.Contradiction as refusal:
            form.add_error("amount", str(refusal))
    context = {"of": of, "form": form}
    return render(request, "jobs/money/pay.html", context, status=422 if form.is_bound else 200)


def _tell_saved(request, of):
    account = saved_account(of)
    if account.too_much:
        more = shown(account.too_much, account.currency)
        what = "order" if isinstance(of, HolderOrder) else "job"
        messages.warning(
            request, lazy("Payment saved. That is {more} more than the {what} comes to.").format(more=more, what=what)
        )
    else:
        messages.success(request, lazy("Payment saved."))


@sent_only("jobs:job", "number")
def undo_payment(request, number, pk):
    """Undo a payment of a job; it stays on the list."""
    return _undone(request, get_job(number), pk)


@sent_only("jobs:holder-order", "order")
def undo_order_payment(request, order, pk):
    """Undo a payment of a holder order; it stays on the list."""
    return _undone(request, _of("", order), pk)


def _undone(request, of, pk):
    try:
        payments.undo(payment=get_object_or_404(of.payments, pk=pk), by=request.user)
    except payments.Contradiction as refusal:
        messages.error(request, str(refusal))
    return redirect(f"{of.get_absolute_url()}#money")


def make_invoice(request, number="", order=None):
    """Check what the invoice will say, and issue it."""
    of = _of(number, order)
    form = (OrderInvoiceForm if order else InvoiceForm)(request.POST or None, of=of)
    if form.is_valid():
        typed = dict(form.cleaned_data)
        buyer = Buyer(*(typed.pop(name) for name in ("buyer_name", "buyer_address", "buyer_country")))
        try:
            made = send_invoice(of=of, buyer=buyer, by=request.user, **typed)
            messages.success(request, lazy("{made} issued. It stays as it is; its PDF is kept here.").format(made=made))
            return redirect(made)
        except payments.Contradiction as refusal:
            form.add_error(None, str(refusal))
    try:
        bill, refused = bill_of(of), ""
    except payments.Contradiction as refusal:
        bill, refused = None, str(refusal)
    context = {"of": of, "form": form, "bill": bill, "refused": refused, "account": saved_account(of)}
    shop = Shop.current()
    context |= {"standing": Invoice.standing(of), "shop": shop}
    context["lacking"] = missing_of_shop(shop.country, shop.tax_number)
    return render(request, "jobs/money/make_invoice.html", context, status=422 if form.is_bound else 200)


def _invoice(number, order, pk):
    invoices = Invoice.objects.select_related("corrects", "job__case_family", "holder_order")
    return get_object_or_404(invoices, pk=pk, **({"job__number": number} if number else {"holder_order": order}))


@require_GET
def invoice(request, pk, number="", order=None):
    """An issued invoice or credit note, with its papers and what corrects it."""
    return _page(request, _invoice(number, order, pk))


@sent_only("jobs:invoice", "number", "pk")
def credit(request, number, pk):
    """Issue a credit note over lines of a job's invoice."""
    return _credited(request, _invoice(number, None, pk))


@sent_only("jobs:holder-order-invoice", "order", "pk")
def credit_order(request, order, pk):
    """Issue a credit note over lines of a holder order's invoice."""
    return _credited(request, _invoice("", order, pk))


def _credited(request, invoice):
    form = CreditForm(request.POST, invoice=invoice)
    if form.is_valid():
        typed = form.cleaned_data
        try:
            made = send_credit(invoice=invoice, lines=list(typed["lines"]), reason=typed["reason"], by=request.user)
            messages.success(request, lazy("{made} issued. It stays as it is; its PDF is kept here.").format(made=made))
            return redirect(made)
        except payments.Contradiction as refusal:
            form.add_error(None, str(refusal))
    return _page(request, invoice, form)


def _page(request, invoice, form=None):
    is_invoice = invoice.kind == Invoice.Kind.INVOICE
    may_credit = is_invoice and invoice.lines.filter(taken_back_by=None).exists()
    context = {
        "of": invoice.of,
        "invoice": invoice,
        "lines": invoice.lines.select_related("taken_back_by__invoice"),
        "taxes": [tax for tax in invoice.taxes.all() if tax.rate],
        "papers": invoice.papers.order_by("pk"),
        "lacking": missing(invoice),
        "owed": is_invoice and (saved_account(invoice.of).owed or 0) > 0,
        "form": form or (CreditForm(invoice=invoice) if may_credit else None),
    }
    return render(request, "jobs/money/invoice.html", context, status=422 if form else 200)
