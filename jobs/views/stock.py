"""Parts from the drawer: put aside for a job, used, put back, counted."""

from django import forms
from django.contrib import messages
from django.shortcuts import get_object_or_404, redirect, render
from django.utils.translation import gettext_lazy as lazy

from jobs import stock
from jobs.models import StockCount, StockUse
from jobs.views.job import get_job
from parts.tools.sent_only import sent_only


class CountForm(forms.Form):
    """How many lie in the drawer, and why the count changes."""

    number = forms.IntegerField(
        min_value=0, max_value=100_000, label=lazy("In stock now"), help_text=lazy("Count those set aside too.")
    )
    reason = forms.CharField(max_length=200, help_text=lazy("Counted, broken, delivered."))


@sent_only("jobs:job", "number")
def put_aside(request, number, kind, pk):
    """Put one of a part aside for the job."""
    job, part = get_job(number), get_object_or_404(kind.model, pk=pk)
    try:
        stock.put_aside(job=job, kind=kind.slug, part=part, by=request.user)
    except stock.NotInStock as refusal:
        messages.error(request, str(refusal))
    return redirect(job)


@sent_only("jobs:job", "number")
def take(request, number):
    """Put one aside of each part that the job is to order and that is in stock."""
    job = get_job(number)
    chosen = job.options.filter(chosen=True).select_related("pairing").first()
    lines = stock.at_hand(stock.drawer_of(job, chosen.pairing), job.orders.all()) if chosen else []
    stock.take(job=job, lines=lines, by=request.user)
    return redirect(job)


@sent_only("jobs:job", "number")
def settle(request, number, pk):
    """Use what was put aside, or put it back."""
    use = get_object_or_404(StockUse.objects.select_related("job"), job__number=number, pk=pk)
    state = StockUse.State.USED if request.POST.get("do") == "use" else StockUse.State.RELEASED
    stock.settle(use=use, state=state, by=request.user)
    return redirect(use.job)


def count(request, kind, pk):
    """Correct a drawer's count, with the reason; earlier counts stay listed."""
    part = get_object_or_404(kind.model, pk=pk)
    form = CountForm(request.POST or None, initial={"number": part.in_stock})
    if form.is_valid():
        stock.count(kind=kind.slug, part=part, by=request.user, **form.cleaned_data)
        messages.success(
            request, lazy("{part}: {number} in stock.").format(part=part, number=form.cleaned_data["number"])
        )
        return redirect("parts:detail", kind, pk)
    context = {"part": part, "form": form, "counts": StockCount.objects.filter(kind=kind.slug, part=pk)[:50]}
    return render(request, "jobs/stock/count.html", context, status=422 if form.is_bound else 200)
