"""The holder orders, a new one, and the price list."""

from django.contrib import messages
from django.shortcuts import redirect, render
from django.utils.translation import gettext_lazy as lazy
from django.views.decorators.http import require_GET

from jobs.holder_orders import steps
from jobs.holder_orders.asking import begun_by
from jobs.holder_orders.forms import NewOrderForm, PriceList, known_materials
from jobs.holder_orders.listing import groups, stock
from jobs.intake.who import begun_for
from jobs.models import HolderPrice, Shop
from parts.library.part_records import key_of
from parts.models import HolderDesign
from parts.tools.stale_guard import one_transaction


@require_GET
def orders(request):
    """The orders by what is to be done, and the finished pieces."""
    context = {"groups": groups(), "stock": stock(), "currency": Shop.current().currency}
    return render(request, "jobs/holder_orders/list.html", context)


def new(request):
    """A new order, of a revision (?design=3) and for a customer (?customer=3) where named, or read from a mail."""
    design = HolderDesign.objects.in_drawers().filter(pk=key_of(request.GET.get("design", ""))).first()
    begun = begun_for(request.GET) | ({"design": design.pk} if design else {})
    if not HolderDesign.objects.in_drawers().exists():
        return render(request, "jobs/holder_orders/no_design.html")
    words, was_read = request.POST.get("words", ""), request.POST.get("do") == "read"
    if was_read:
        typed = {name: request.POST[name] for name in NewOrderForm.base_fields if request.POST.get(name)}
        begun |= typed | begun_by(words, known_materials())
    form = NewOrderForm(None if was_read else request.POST or None, initial=begun, sees_money=request.sees_money)
    if form.is_valid():
        order = steps.take(order=form.instance, customer=form.cleaned_data["customer"], by=request.user)
        messages.success(request, lazy("{order} is saved. Next: make {order.pieces_word}.").format(order=order))
        return redirect(order)
    context = {"form": form, "words": words, "was_read": was_read}
    return render(request, "jobs/holder_orders/new.html", context, status=422 if form.is_bound else 200)


@one_transaction
def prices(request):
    """The price list by process and material."""
    formset = PriceList(request.POST or None, queryset=HolderPrice.objects.all())
    if formset.is_valid():
        formset.save()
        messages.success(request, lazy("Price list saved. Orders that have a price keep it."))
        return redirect("jobs:holder-prices")
    context = {"formset": formset, "currency": Shop.current().currency}
    return render(request, "jobs/holder_orders/prices.html", context, status=422 if formset.is_bound else 200)
