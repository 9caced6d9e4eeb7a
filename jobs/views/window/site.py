"""What the site says of the shop, the site as it would be, and writing it."""

import tempfile

from django.contrib import messages
from django.http import FileResponse, Http404, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils.translation import gettext_lazy as lazy
from django.views.decorators.http import require_safe

from jobs.models import Shop, Window, WindowEntry, WindowHolder
from jobs.window import entries
from jobs.window.forms import WindowForm
from jobs.window.pages import files_of, photos_of
from jobs.window.publishing import NotShown, folder, publish, ready
from jobs.window.site import Site
from jobs.window.writing import Busy, last_written, write_zip
from parts.tools.sent_only import sent_only
from parts.tools.stale_guard import for_saving, one_transaction

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


@one_transaction
def about(request):
    """What the site says of the shop, where it lies, its languages."""
    saved = Window.current(for_saving(request, Window.objects.all()))
    form = WindowForm(request.POST or None, instance=saved, shop=Shop.current())
    if form.is_valid():
        form.save()
        messages.success(request, lazy("Saved. Write the site to show it."))
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
        messages.success(
            request, lazy("{text} Copy the folder to your web space, or download it as a ZIP.").format(text=text)
        )
        return redirect("jobs:window")
    return render(request, "jobs/window/write.html", {"ready": ready(), "folder": folder()})


@sent_only("jobs:window-write")
def clear(request):
    """Note that a word is no person where it stands, or take that back."""
    code = request.POST.get("entry", "")
    record_of = WindowHolder.objects.filter(code=code).first() if code else Window.current()
    record_of = record_of or get_object_or_404(WindowEntry, code=code)
    entries.clear(record_of=record_of, key=request.POST.get("key", "")[:200], cleared=request.POST.get("do") != "undo")
    return redirect("jobs:window-write")


@require_safe
def preview(request, path=""):
    """A file of the site as it would be written now."""
    site = Site()
    files = photos_of(site) if path.startswith("photos/") else files_of(site)
    file = files.get(path or "index.html")
    if file is None or not site.entries:
        raise Http404
    return HttpResponse(file.make(), content_type=_TYPES[path.rpartition(".")[2] if path else "html"])


@require_safe
def download(request):
    """The site as it was written last, as one ZIP."""
    if last_written(folder()) is None:
        raise Http404
    made = tempfile.TemporaryFile()  # noqa: SIM115 the answer closes it
    write_zip(folder(), made)
    made.seek(0)
    return FileResponse(made, as_attachment=True, filename="show-window.zip", content_type="application/zip")
