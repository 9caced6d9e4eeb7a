"""The numbers of the shop, on a page and as files."""

from django.http import Http404, HttpResponse
from django.shortcuts import redirect, render
from django.views.decorators.http import require_GET

from jobs.past.figures_form import FiguresForm
from jobs.past.record import catch_up
from jobs.past.tables import all_tables, as_csv


@require_GET
def figures(request):
    """Conversions, hours, checks and turnaround of the days asked for."""
    left, form = catch_up(), FiguresForm(request.GET)
    tables = all_tables(**form.cleaned_data) if form.is_valid() else []
    return render(request, "jobs/figures.html", {"form": form, "tables": tables, "left": left})


@require_GET
def table_file(request, table):
    """One table as a CSV file."""
    form = FiguresForm(request.GET)
    if not form.is_valid():
        return redirect("jobs:figures")
    found = next((one for one in all_tables(**form.cleaned_data) if one.key == table), None)
    if found is None:
        raise Http404
    name = f'attachment; filename="dialside-{table}.csv"'
    return HttpResponse(as_csv(found), content_type="text/csv; charset=utf-8", headers={"Content-Disposition": name})
