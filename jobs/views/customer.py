"""Customers: found, shown with their jobs, changed, put away."""

from django import forms
from django.contrib import messages
from django.core.paginator import Paginator
from django.shortcuts import get_object_or_404, redirect, render
from django.views.decorators.http import require_GET

from jobs.bench import CUSTOMER_FIELDS, holding
from jobs.models import Customer
from jobs.views.posted import posted
from parts.seen import SeenMixin


class CustomerForm(SeenMixin, forms.ModelForm):
    class Meta:
        model = Customer
        fields = ("name", "email", "phone", "address", "reach", "notes")
        widgets = {"address": forms.Textarea(attrs={"rows": 3}), "notes": forms.Textarea(attrs={"rows": 3})}


@require_GET
def customers(request):
    """All customers, by name; found by name, phone or e-mail."""
    words, away = request.GET.get("q", "").replace("\0", "").strip()[:200], request.GET.get("put-away") == "on"
    found = holding(Customer.objects.filter(archived=away), CUSTOMER_FIELDS, words.split()[:8])
    page = Paginator(found.order_by("name", "pk"), 50).get_page(request.GET.get("page"))
    return render(request, "jobs/customers.html", {"page": page, "words": words, "away": away})


@require_GET
def customer(request, pk):
    """One customer with the jobs done for them."""
    found = get_object_or_404(Customer, pk=pk)
    jobs = found.jobs.select_related("case_family").order_by("-pk")[:200]
    return render(request, "jobs/customer.html", {"customer": found, "jobs": jobs})


def edit(request, pk):
    """Change a customer's particulars."""
    found = get_object_or_404(Customer, pk=pk)
    form = CustomerForm(request.POST or None, instance=found)
    if form.is_valid():
        form.save()
        messages.success(request, "The customer is changed.")
        return redirect(found)
    context = {"form": form, "heading": "Change a customer", "back": found.get_absolute_url()}
    return render(request, "jobs/customer_form.html", context, status=422 if form.is_bound else 200)


@posted
def put_away(request, pk):
    """Put a customer away, or bring them back; their jobs stay."""
    found = get_object_or_404(Customer, pk=pk)
    found.archived = request.POST.get("do") != "bring-back"
    found.save(update_fields=["archived", "updated"])
    return redirect(found)
