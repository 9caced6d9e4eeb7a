"""The page of the shop's instruments."""

from django.contrib import messages
from django.shortcuts import get_object_or_404, redirect, render
from django.utils.translation import gettext_lazy as lazy

from parts.instruments.drawer import Drawer
from parts.models import Instrument
from parts.tools.archiving import archive_as_asked, is_archiving
from parts.tools.sent_only import sent_only
from parts.tools.stale_guard import one_transaction


@one_transaction
def instruments(request):
    """What the shop measures with, and how far off each may be."""
    drawer = Drawer(data=request.POST or None)
    if request.method == "POST" and drawer.is_valid():
        drawer.save()
        messages.success(request, lazy("Instruments saved. Numbers entered before keep their ±."))
        return redirect("parts:instruments")
    status = 422 if request.method == "POST" else 200
    return render(request, "parts/instruments/instruments.html", {"drawer": drawer}, status=status)


@sent_only("parts:instruments")
def archive(request, pk):
    """Put an instrument away, or bring it back."""
    instrument = get_object_or_404(Instrument, pk=pk)
    archive_as_asked(request, instrument)
    done = "is archived: it is no longer offered as in hand" if is_archiving(request) else "is back"
    messages.success(request, lazy("{instrument} {done}.").format(instrument=instrument, done=done))
    return redirect("parts:instruments")
