"""Timing runs: readings tapped or typed, and what they say."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from math import inf
from typing import TYPE_CHECKING

from django.contrib import messages
from django.http import JsonResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.utils.safestring import mark_safe
from django.utils.translation import gettext_lazy as lazy
from django.views.decorators.http import require_GET

from jobs.models import Reading, TimingRun
from jobs.options.choosing import chosen_option
from jobs.rate import NORMAL_T
from jobs.timing import timing_runs
from jobs.timing.forms import RunForm, TypedForm
from jobs.timing.plot import SIZES, plot_svg
from jobs.views.job import get_job
from parts.tools.archiving import is_archiving
from parts.tools.sent_only import sent_only
from parts.tools.stale_guard import for_saving, one_transaction

if TYPE_CHECKING:
    from django.forms import Form
    from django.http import HttpResponse

    from jobs.models import Option
    from parts.tools.htmx_request import HtmxRequest

_AT_SERVER_S = 0.5
"""Half-width taken for a tap whose time was only taken when it arrived, s; common practice, no source."""


def runs(request, number):
    """The runs of a job, and beginning one."""
    job = get_job(number)
    form = RunForm(request.POST or None, initial={"as_found": not job.timing_runs.exists() and job.stage == "teardown"})
    if form.is_valid():
        run = timing_runs.start_run(job=job, by=request.user, **form.cleaned_data)
        return redirect("jobs:run", number, run.pk)
    option = chosen_option(job)
    terms = timing_runs.judged_by(option)
    job_runs = job.timing_runs.prefetch_related("readings").order_by("archived", "-pk")
    lines = [(run, timing_runs.outcome(run, **terms)) for run in job_runs]
    now = timezone.now()
    return render(
        request,
        "jobs/timing/runs.html",
        {"job": job, "form": form, "lines": lines, "now": now} | _of_option(option),
        status=422 if form.is_bound else 200,
    )


def _of_option(option: Option | None, *, as_found: bool = False) -> dict[str, object]:
    """What the pages of runs say of the chosen option: its movement, and what a tap waits for."""
    return {
        "movement": option.pairing.movement if option else None,
        "crossing": timing_runs.tapped_when(None if as_found else option),
    }


def _run(number, pk, held_by=None):
    """A run of the job; its row is held where the request `held_by` is to save something."""
    job_runs = TimingRun.objects.select_related("job__customer", "job__case_family").prefetch_related("readings")
    job_runs = for_saving(held_by, job_runs)
    return get_object_or_404(job_runs, job__number=number, pk=pk)


@one_transaction
def change_run(request, number, pk):
    """Edit notes of a run: the voltage measured later, a wrong temperature."""
    run = _run(number, pk, held_by=request)
    form = RunForm(request.POST or None, instance=run)
    if form.is_valid():
        changes = {name: (form.initial[name], form.cleaned_data[name]) for name in form.changed_data}
        timing_runs.change_run(run=run, changes=changes, by=request.user)
        return redirect("jobs:run", number, pk)
    context = {"job": run.job, "form": form, "heading": f"Edit notes: {run}", "button": "Save"}
    return render(request, "jobs/job/form.html", context, status=422 if form.is_bound else 200)


@sent_only("jobs:runs", "number")
def archive_run(request, number, pk):
    """Archive a run, or bring it back; its readings stay."""
    run = _run(number, pk)
    timing_runs.archive(run=run, archived=is_archiving(request), by=request.user)
    return redirect("jobs:runs", number)


@require_GET
def run(request, number, pk):
    """One run with its plot, verdict and the button to tap."""
    return _page(request, _run(number, pk))


def _page(request: HtmxRequest, run: TimingRun, *, form: Form | None = None, status: int = 200) -> HttpResponse:
    option = chosen_option(run.job)
    outcome = timing_runs.outcome(run, **timing_runs.judged_by(option))
    counted = [reading.pk for reading in run.readings.all() if not reading.undone]
    facts = {
        pk: (NORMAL_T * error, outcome.off.get(place))
        for place, (pk, error) in enumerate(zip(counted, outcome.errors, strict=True))
    }
    readings = [(reading, *facts.get(reading.pk, (None, None))) for reading in reversed(run.readings.all())]
    context = {
        "run": run,
        "job": run.job,
        "outcome": outcome,
        "plots": [(size, mark_safe(plot_svg(outcome, size))) for size in SIZES] if outcome.tells_rate else [],
        "readings": readings,
        "off": [(reading, off) for reading, _, off in readings if off is not None],
        "typed_form": form or TypedForm(),
        "now": timezone.now(),
    } | _of_option(option, as_found=run.as_found)
    return render(request, "jobs/timing/_run.html" if request.htmx else "jobs/timing/run.html", context, status=status)


@require_GET
def clock(request):
    """The machine's clock, in s since 1970 UTC, for the browser to measure its offset by, and its zone's s from UTC."""
    now = timezone.localtime()
    facts = {"now": now.timestamp(), "from_utc": now.utcoffset().total_seconds()}
    return JsonResponse(facts, headers={"Cache-Control": "no-store"})


@sent_only("jobs:run", "number", "pk")
def tap(request, number, pk):
    """A tap as the hand crosses its mark; without the browser's own time the moment of arrival is taken."""
    run = _run(number, pk)
    at, plus_minus = _tapped(request.POST, timezone.now())
    if at is None:
        messages.error(request, lazy("The tablet's clock is more than a day off; this tap was not counted."))
    else:
        reading, is_new = timing_runs.take_tap(run=run, at=at, plus_minus_s=plus_minus)
        messages.info(request, _said_of(reading, at, is_new=is_new))
    return _page(request, _run(number, pk)) if request.htmx else redirect("jobs:run", number, pk)


def _said_of(reading: Reading, at: datetime, *, is_new: bool) -> str:
    """What a tap is answered with: the reading that stands for it."""
    way = "behind" if reading.offset_s < 0 else "ahead"
    saved = f"{timezone.localtime(reading.at):%H:%M:%S}, watch {abs(reading.offset_s):.2f} s {way}"
    if is_new:
        return f"Tap saved: {saved}."
    apart = abs((at - reading.at).total_seconds())
    return (
        f"Not added: this tap came {apart:.1f} s from another. Taps less than {timing_runs.TAPS_APART_S:.0f} s apart "
        f"count as one. The first one counts: {saved}."
    )


def _tapped(data, now):
    """The tap's time and half-width from the browser, or those of its arrival; (None, 0) for a clock far off."""
    try:
        at, plus_minus = datetime.fromtimestamp(float(data["at"]), UTC), float(data["plus_minus"])
    except (KeyError, ValueError, OverflowError, OSError):
        return now, _AT_SERVER_S
    if not 0 <= plus_minus < inf:
        return now, _AT_SERVER_S
    return (at, min(plus_minus, 60.0)) if abs(at - now) < timedelta(days=1) else (None, 0.0)


@sent_only("jobs:run", "number", "pk")
def type_in(request, number, pk):
    """A reading that was read off and typed."""
    run, form = _run(number, pk), TypedForm(request.POST)
    if not form.is_valid():
        return _page(request, run, form=form, status=422)
    timing_runs.add_reading(run=run, how=Reading.How.TYPED, **form.cleaned_data)
    return redirect("jobs:run", number, pk)


@sent_only("jobs:run", "number", "pk")
def undo_reading(request, number, pk, reading):
    """Leave a reading out, or count it again."""
    taken = get_object_or_404(Reading, pk=reading, run__pk=pk, run__job__number=number)
    timing_runs.undo(reading=taken, undone=request.POST.get("do") != "count", by=request.user)
    return _page(request, _run(number, pk)) if request.htmx else redirect("jobs:run", number, pk)
