"""Holders and spacers of the show window: chosen, worded, taken out and put back."""

from django.contrib import messages
from django.shortcuts import get_object_or_404, redirect, render
from django.utils.translation import gettext_lazy as lazy

from jobs.models import Shop, Window, WindowHolder
from jobs.window.forms import HolderForm
from parts.models import HolderDesign
from parts.tools.sent_only import sent_only
from parts.tools.stale_guard import for_saving, one_transaction


@one_transaction
def holder(request, design):
    """One of them: new, with what its design proposes, or to be changed."""
    record = get_object_or_404(HolderDesign.objects.select_related("family", "movement"), pk=design)
    known = for_saving(request, WindowHolder.objects.filter(design=record)).first()
    form = HolderForm(
        request.POST or None,
        instance=known or WindowHolder(design=record, by=request.user),
        shop=Shop.current(),
        languages=Window.current().languages,
    )
    if form.is_valid():
        form.put_words()
        form.save()
        after = "It is in the window; write the site to show it." if form.instance.shown else "It is not in the window."
        messages.success(request, lazy("Saved. {after}").format(after=after))
        return redirect("jobs:window")
    context = {"design": record, "entry": known, "form": form}
    return render(request, "jobs/window/holder.html", context, status=422 if form.is_bound else 200)


@sent_only("jobs:window-holder", "design")
def holder_state(request, design):
    """Take it out of the window, or put it back."""
    known = get_object_or_404(WindowHolder, design=design)
    known.shown = request.POST.get("do") == "show"
    known.save(update_fields=["shown", "updated"])
    what = "is in the window" if known.shown else "is taken out of the window"
    messages.success(
        request,
        lazy("“{known}” {what}. The site changes when you write it and copy it.").format(known=known, what=what),
    )
    return redirect("jobs:window")
