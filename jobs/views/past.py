"""Past swaps: found by words and dimensions; what came of a job."""

from django.contrib import messages
from django.http import Http404, HttpResponse
from django.shortcuts import redirect, render
from django.utils.translation import gettext_lazy as lazy
from django.views.decorators.http import require_GET

from jobs.past import outcome as outcomes
from jobs.past.by_dimensions import NearForm
from jobs.past.figures.form import FiguresForm
from jobs.past.figures.tables import all_tables, as_csv
from jobs.past.outcome_form import OutcomeForm
from jobs.past.record import refresh_stale
from jobs.past.search.form import PastForm
from jobs.views.job import get_job
from parts.library.part_records import key_of
from parts.tools.sent_only import sent_only
from parts.tools.stale_guard import one_transaction


@require_GET
def past(request):
    """Past jobs by words and by what is known of them."""
    left = refresh_stale()
    form = PastForm(request.GET)
    page = form.find(key_of(request.GET.get("after", "")))
    return render(request, "jobs/past/search.html", {"form": form, "page": page, "left": left})


@one_transaction
def outcome(request, number):
    """What came of the job: asked at handover, open at any time."""
    job = get_job(number, held_by=request)
    form = OutcomeForm(
        request.POST or None, instance=outcomes.outcome_of(job), saved_report=outcomes.saved_report_of(job)
    )
    if form.is_valid():
        form.store(request.user)
        messages.success(request, lazy("Saved: how it turned out."))
        return redirect(job)
    context = {"job": job, "form": form}
    return render(request, "jobs/past/outcome.html", context, status=422 if form.is_bound else 200)


@require_GET
def near(request):
    """Cases with nearly the same dimensions, and the jobs that were done on them."""
    left = refresh_stale()
    form = NearForm(request.GET)
    return render(request, "jobs/past/by_dimensions.html", {"form": form, "near_cases": form.find(), "left": left})


@sent_only("jobs:job", "number")
def learn(request, number):
    """Take the mark to learn from off, or put it on with the reason that is there."""
    job = get_job(number)
    on, why = request.POST.get("do") == "mark", request.POST.get("why", "").replace("\0", "").strip()[:300]
    if on and not why:
        messages.error(request, lazy("Say in a few words what this job teaches, then save it as a lesson."))
    else:
        outcomes.mark_to_learn(job=job, learn=on, why=why or outcomes.outcome_of(job).learn_why, by=request.user)
    return redirect(job)


@require_GET
def figures(request):
    """Conversions, hours, checks and turnaround of the days asked for."""
    left, form = refresh_stale(), FiguresForm(request.GET)
    tables = all_tables(**form.cleaned_data) if form.is_valid() else []
    has_rows = any(table.rows for table in tables)
    context = {"form": form, "tables": tables, "left": left, "has_rows": has_rows}
    return render(request, "jobs/past/figures.html", context)


@require_GET
def table_file(request, table):
    """One table as a CSV file."""
    form = FiguresForm(request.GET)
    if not form.is_valid():
        return redirect("jobs:figures")
    wanted = next((made for made in all_tables(**form.cleaned_data) if made.key == table), None)
    if wanted is None:
        raise Http404
    name = f'attachment; filename="dialside-{table}.csv"'
    return HttpResponse(as_csv(wanted), content_type="text/csv; charset=utf-8", headers={"Content-Disposition": name})
