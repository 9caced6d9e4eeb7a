"""The show window: its entries, what is said of it, the site as it would be, and writing it."""

import tempfile

from django.contrib import messages
from django.http import FileResponse, Http404, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.views.decorators.http import require_GET, require_safe

from jobs.models import Job, Shop, Window, WindowEntry
from jobs.views.job import get_job
from jobs.window import entries
from jobs.window.forms import EntryForm, WindowForm
from jobs.window.pages import files_of
from jobs.window.proposals import proposed
from jobs.window.publishing import NotShown, folder, publish, ready
from jobs.window.site import Site
from jobs.window.writing import Busy, listed, write_zip
from parts.tools.sent_only import sent_only
from parts.tools.stale_guard import for_saving, one_transaction

TO_CHOOSE = 12
"""Past swaps offered at once; older ones have the same link in their job's menu."""
_TYPES = {
    "html": "text/html; charset=utf-8",
    "xml": "application/xml; charset=utf-8",
    "txt": "text/plain; charset=utf-8",
    "css": "text/css; charset=utf-8",
    "js": "text/javascript; charset=utf-8",
    "svg": "image/svg+xml",
    "jpg": "image/jpeg",
    "woff2": "font/woff2",
}


@require_GET
def window(request):
    """What is in the window, what was taken out, and past swaps to choose from."""
    listed_entries = WindowEntry.objects.select_related("job", "family", "movement").order_by(
        "-shown", "-first_shown", "-pk"
    )
    finished = Job.objects.filter(state=Job.State.FINISHED, window_entry=None).select_related("case_family")
    context = {
        "entries": listed_entries,
        "to_choose": finished.order_by("-updated")[:TO_CHOOSE],
        "window": Window.current(),
        "is_written": bool(listed(folder())),
    }
    return render(request, "jobs/window/window.html", context)


@one_transaction
def entry(request, number):
    """One entry: new, with what the job proposes, or to be changed."""
    job, shop = get_job(number, held_by=request), Shop.current()
    known = WindowEntry.objects.filter(job=job).first()
    if known is None and job.state != Job.State.FINISHED:
        messages.error(request, "Only a finished job can be shown. Finish it first.")
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
        messages.success(request, f"Saved. {after}")
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
    messages.success(request, f"“{shown_entry}” {what}. The site changes when you write it.")
    return redirect("jobs:window")


@one_transaction
def about(request):
    """What the site says of the shop, where it lies, its languages."""
    saved = Window.current(for_saving(request, Window.objects.all()))
    form = WindowForm(request.POST or None, instance=saved, shop=Shop.current())
    if form.is_valid():
        form.save()
        messages.success(request, "Saved. Write the site to show it.")
        return redirect("jobs:window-about")
    return render(request, "jobs/window/about.html", {"form": form}, status=422 if form.is_bound else 200)


def writing(request):
    """What would be written, with everything personal in it named; the button writes it."""
    if request.method == "POST":
        try:
            done = publish()
        except (NotShown, Busy) as refusal:
            messages.error(request, str(refusal))
            return redirect("jobs:window-write")
        text = f"{done.total} files written." if done.total else "Nothing has changed since it was written last."
        messages.success(request, f"{text} Copy the folder to your web space, or download it as a ZIP.")
        return redirect("jobs:window")
    return render(request, "jobs/window/write.html", {"ready": ready(), "folder": folder()})


@sent_only("jobs:window-write")
def clear(request):
    """Note that a word is no person where it stands, or take that back."""
    code = request.POST.get("entry", "")
    record_of = get_object_or_404(WindowEntry, code=code) if code else get_object_or_404(Window)
    entries.clear(record_of=record_of, key=request.POST.get("key", "")[:200], cleared=request.POST.get("do") != "undo")
    return redirect("jobs:window-write")


@require_safe
def preview(request, path=""):
    """A file of the site as it would be written now."""
    site = Site()
    file = files_of(site).get(path or "index.html")
    if file is None or not site.entries:
        raise Http404
    return HttpResponse(file.make(), content_type=_TYPES[path.rpartition(".")[2] if path else "html"])


@require_safe
def download(request):
    """The site as it was written last, as one ZIP."""
    if not listed(folder()):
        raise Http404
    made = tempfile.TemporaryFile()  # noqa: SIM115 the answer closes it
    write_zip(folder(), made)
    made.seek(0)
    return FileResponse(made, as_attachment=True, filename="show-window.zip", content_type="application/zip")
