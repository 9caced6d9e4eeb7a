"""The entries of the show window: listed, chosen, changed, taken out and put back."""

from django.contrib import messages
from django.shortcuts import get_object_or_404, redirect, render
from django.utils.translation import gettext_lazy as lazy
from django.views.decorators.http import require_GET

from jobs.language.choices import settled
from jobs.models import Job, Shop, Window, WindowEntry, WindowHolder
from jobs.views.job import get_job
from jobs.window import entries
from jobs.window.forms import EntryForm
from jobs.window.proposals import proposed
from jobs.window.publishing import folder, still_written
from jobs.window.translations import behind
from jobs.window.writing import last_written
from parts.models import HolderDesign
from parts.tools.sent_only import sent_only
from parts.tools.stale_guard import one_transaction

TO_CHOOSE = 12
"""Past swaps offered at once; older ones have the same link in their job's menu."""


@require_GET
def window(request):
    """What is in the window, what was taken out, and past swaps to choose from."""
    listed_entries = WindowEntry.objects.select_related("job", "family", "movement").order_by(
        "-shown", "-first_shown", "-pk"
    )
    finished = Job.objects.filter(state=Job.State.FINISHED, window_entry=None).select_related("case_family")
    own, about = settled(Shop.current().language), Window.current()
    terms = {"own": own, "languages": about.languages}
    context = {
        "entries": [(entry, behind(entry, **terms)) for entry in listed_entries],
        "holders": [(holder, behind(holder, **terms)) for holder in WindowHolder.objects.select_related("design")],
        "designs": HolderDesign.objects.in_drawers()
        .filter(window_holder=None)
        .select_related("family", "movement")[:TO_CHOOSE],
        "languages": [code for code in about.languages if code != own],
        "about_behind": behind(about, **terms),
        "still_written": still_written(),
        "to_choose": finished.order_by("-updated")[:TO_CHOOSE],
        "written": last_written(folder()),
    }
    return render(request, "jobs/window/window.html", context)


@one_transaction
def entry(request, number):
    """One entry: new, with what the job proposes, or to be changed."""
    job, shop = get_job(number, held_by=request), Shop.current()
    known = WindowEntry.objects.filter(job=job).first()
    if known is None and job.state != Job.State.FINISHED:
        messages.error(request, lazy("Only a finished job can be shown. Finish it first."))
        return redirect(job)
    form = EntryForm(
        request.POST or None,
        instance=known or WindowEntry(job=job),
        shop=shop,
        languages=Window.current().languages,
        proposal={} if known else proposed(job, shop),
    )
    if form.is_valid():
        form.put_words()
        entries.save(entry=form.instance, photos=form.chosen_photos, by=request.user)
        after = "It is in the window; write the site to show it." if form.instance.shown else "It is not in the window."
        messages.success(request, lazy("Saved. {after}").format(after=after))
        return redirect("jobs:window")
    context = {"job": job, "entry": known, "form": form}
    return render(request, "jobs/window/entry.html", context, status=422 if form.is_bound else 200)


@sent_only("jobs:window-entry", "number")
def entry_state(request, number):
    """Put an entry in the window, or take it out."""
    shown_entry = get_object_or_404(WindowEntry.objects.select_related("job"), job__number=number)
    shown = request.POST.get("do") == "show"
    entries.show(entry=shown_entry, shown=shown, by=request.user)
    what = "is in the window" if shown else "is taken out of the window"
    messages.success(
        request,
        lazy("“{shown_entry}” {what}. The site changes when you write it and copy it.").format(
            shown_entry=shown_entry, what=what
        ),
    )
    return redirect("jobs:window")
