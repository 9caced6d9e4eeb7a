"""Customers: found, shown with their jobs, changed, archived; their personal data given out and erased on request."""

from django.contrib import messages
from django.core.paginator import Paginator
from django.db.models import Count, Q
from django.http import FileResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils.translation import gettext_lazy as lazy
from django.views.decorators.cache import never_cache
from django.views.decorators.http import require_GET

from jobs.bench import CUSTOMER_FIELDS, holding
from jobs.customers.forms import CustomerForm, EraseForm
from jobs.customers.personal_data import held, personal_file
from jobs.enquiries import listing as enquiry_lists
from jobs.holder_orders import listing as order_lists
from jobs.models import Customer, Shop
from jobs.window.publishing import still_written
from parts.fit.answer.listing import in_a_sentence
from parts.tools.archiving import archive_as_asked
from parts.tools.sent_only import sent_only
from parts.tools.stale_guard import for_saving, one_transaction


@require_GET
def customers(request):
    """All customers, by name; found by name, phone or e-mail."""
    words, away = request.GET.get("q", "").replace("\0", "").strip()[:200], request.GET.get("put-away") == "on"
    matching = holding(Customer.objects.filter(archived=away), CUSTOMER_FIELDS, words.split()[:8])
    matching = matching.annotate(
        job_count=Count("jobs", distinct=True), open_count=Count("jobs", filter=Q(jobs__state="open"), distinct=True)
    )
    page = Paginator(matching.order_by("name", "pk"), 50).get_page(request.GET.get("page"))
    return render(request, "jobs/customers/list.html", {"page": page, "words": words, "away": away})


@require_GET
def customer(request, pk):
    """One customer with the jobs done for them."""
    customer = get_object_or_404(Customer, pk=pk)
    jobs = customer.jobs.select_related("case_family").order_by("-pk")[:200]
    enquiries = enquiry_lists.with_all(customer.enquiries.order_by("-pk"))[:200]
    context = {"customer": customer, "jobs": jobs, "enquiries": enquiries}
    orders = order_lists.with_all(customer.holder_orders.order_by("-pk"))[:200]
    context |= {"orders": orders, "currency": Shop.current().currency}
    return render(request, "jobs/customers/customer.html", context)


@one_transaction
def edit(request, pk):
    """Edit a customer's particulars."""
    customer = get_object_or_404(for_saving(request, Customer.objects.all()), pk=pk)
    form = CustomerForm(request.POST or None, instance=customer)
    if form.is_valid():
        form.save()
        messages.success(request, lazy("Customer saved."))
        return redirect(customer)
    context = {"form": form, "heading": "Edit a customer", "back": customer.get_absolute_url()}
    return render(request, "jobs/customers/form.html", context, status=422 if form.is_bound else 200)


@sent_only("jobs:customer", "pk")
def archive(request, pk):
    """Archive a customer, or bring them back; their jobs stay."""
    customer = get_object_or_404(Customer, pk=pk)
    archive_as_asked(request, customer)
    return redirect(customer)


@never_cache
@sent_only("jobs:customer", "pk")
def give_out(request, pk):
    """Everything that is held on a customer, as a download."""
    customer = get_object_or_404(Customer, pk=pk)
    name = f"dialside-customer-{customer.pk}.zip"
    return FileResponse(personal_file(customer), as_attachment=True, filename=name, content_type="application/zip")


@never_cache
def erase_customer(request, pk):
    """Tell what goes and what stays, and erase once the name is typed."""
    customer = get_object_or_404(Customer, pk=pk)
    if customer.is_erased:
        messages.info(request, lazy("This customer's personal data is already erased."))
        return redirect(customer)
    form = EraseForm(request.POST or None, customer=customer)
    if form.is_valid() and form.run(by=request.user):
        messages.success(
            request,
            lazy("Personal data erased. The jobs stay under “{customer.erased_name}”.").format(customer=customer),
        )
        if still := still_written(of=customer):
            names = ", ".join(f"“{entry}”" for entry in still)
            messages.warning(
                request,
                lazy(
                    "The show window's folder still holds {names} as it was written last, and so does your web space. "
                    "Write the site again, and copy it."
                ).format(names=names),
            )
        if form.mentioning:
            messages.warning(request, _also_in(form.mentioning))
        return redirect(customer)
    context = {"customer": customer, "form": form, "held": held(customer)}
    return render(request, "jobs/customers/erase.html", context, status=422 if form.is_bound else 200)


def _also_in(jobs):
    named = [job.number for job in jobs[:10]] + ([f"{len(jobs) - 10} more"] if len(jobs) > 10 else [])
    return (
        f"The name is also taken out of job{'s' if len(jobs) > 1 else ''} {in_a_sentence(named)}, where it was "
        "mentioned. Papers already made for them may still show it."
    )
