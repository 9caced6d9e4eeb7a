"""Timing runs: readings tapped or typed, and what they say."""

from datetime import UTC, datetime, timedelta

from django import forms
from django.contrib import messages
from django.http import JsonResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.utils.safestring import mark_safe
from django.views.decorators.http import require_GET, require_POST

from jobs import timing
from jobs.models import Reading, TimingRun
from jobs.rate import READING_S, tap_offset
from jobs.timing_plot import plot_svg
from jobs.views.job import get_job

_AT_SERVER_S = 0.5
"""Half-width taken for a tap whose time was only taken when it arrived, s; common practice, no source."""


class RunForm(forms.ModelForm):
    """What is noted when a run begins."""

    bench_temperature = forms.FloatField(
        required=False,
        min_value=-20,
        max_value=60,
        label="Bench temperature",
        help_text="°C; carries the rate to the wrist",
    )
    cell_voltage = forms.FloatField(required=False, min_value=0, max_value=20, help_text="V, under load")
    current_draw = forms.FloatField(required=False, min_value=0, max_value=1000, help_text="µA, mean")

    class Meta:
        model = TimingRun
        fields = ("as_found", "bench_temperature", "cell_voltage", "current_draw", "note")


class TypedForm(forms.Form):
    """A reading read off and typed."""

    offset_s = forms.FloatField(
        min_value=-43_200, max_value=43_200, label="Watch ahead by", help_text="s; minus for behind"
    )
    at = forms.DateTimeField(
        label="At",
        required=False,
        help_text="Empty for now.",
        widget=forms.DateTimeInput({"type": "datetime-local", "step": 1}),
    )

    def clean_at(self):
        at = self.cleaned_data["at"] or timezone.now()
        if at > timezone.now() + timedelta(minutes=1):
            raise forms.ValidationError(f"{at:%d %b %Y, %H:%M} lies ahead. Enter when the watch was read.")
        return at


def runs(request, number):
    """The runs of a job, and beginning one."""
    job = get_job(number)
    form = RunForm(request.POST or None, initial={"as_found": not job.timing_runs.exists() and job.stage == "teardown"})
    if form.is_valid():
        run = timing.start_run(job=job, by=request.user, **form.cleaned_data)
        return redirect("jobs:run", number, run.pk)
    limits = timing.limits_of(job)
    lines = [
        (run, timing.outcome(run, **limits)) for run in job.timing_runs.prefetch_related("readings").order_by("-pk")
    ]
    return render(
        request, "jobs/runs.html", {"job": job, "form": form, "lines": lines}, status=422 if form.is_bound else 200
    )


def _run(number, pk):
    found = TimingRun.objects.select_related("job__customer", "job__case_family").prefetch_related("readings")
    return get_object_or_404(found, job__number=number, pk=pk)


@require_GET
def run(request, number, pk):
    """One run with its plot, verdict and the button to tap."""
    return _page(request, _run(number, pk))


def _page(request, found, *, form=None, status=200):
    limits = timing.limits_of(found.job)
    outcome = timing.outcome(found, **limits)
    context = {
        "run": found,
        "job": found.job,
        "outcome": outcome,
        "limits": limits,
        "plot": mark_safe(plot_svg(outcome, READING_S)),
        "readings": list(reversed(found.readings.all())),
        "typed_form": form or TypedForm(),
        "reading_s": READING_S,
        "wrist_c": timing.WRIST_C,
    }
    return render(request, "jobs/_run.html" if request.htmx else "jobs/run.html", context, status=status)


@require_GET
def clock(request):
    """The machine's clock, in s since 1970 UTC, for the browser to measure its offset by."""
    return JsonResponse({"now": timezone.now().timestamp()}, headers={"Cache-Control": "no-store"})


@require_POST
def tap(request, number, pk):
    """A tap as the seconds hand crosses 12; without the browser's own time the moment of arrival is taken."""
    found = _run(number, pk)
    now = timezone.now()
    at, plus_minus = _tapped(request.POST, now)
    if at is None:
        messages.error(request, "The tablet's clock is more than a day off; this tap was not counted.")
    else:
        outcome = timing.outcome(found)
        expected = outcome.points[-1][1] if outcome.points else 0.0
        if outcome.fit:
            first = next(one.at for one in found.readings.all() if not one.taken_back)
            expected = outcome.fit.offset_at((at - first).total_seconds())
        offset = tap_offset(at.second + at.microsecond / 1e6, expected)
        timing.add_reading(run=found, at=at, offset_s=offset, how=Reading.How.TAP, plus_minus_s=plus_minus)
    return _page(request, _run(number, pk)) if request.htmx else redirect("jobs:run", number, pk)


def _tapped(data, now):
    """The tap's time and half-width from the browser, or those of its arrival; (None, 0) for a clock far off."""
    try:
        at = datetime.fromtimestamp(float(data["at"]), UTC)
        plus_minus = min(max(float(data["plus_minus"]), 0.0), 60.0)
    except (KeyError, ValueError, OverflowError, OSError):
        return now, _AT_SERVER_S
    return (at, plus_minus) if abs(at - now) < timedelta(days=1) else (None, 0.0)


@require_POST
def type_in(request, number, pk):
    """A reading that was read off and typed."""
    found, form = _run(number, pk), TypedForm(request.POST)
    if not form.is_valid():
        return _page(request, found, form=form, status=422)
    timing.add_reading(run=found, how=Reading.How.TYPED, **form.cleaned_data)
    return redirect("jobs:run", number, pk)


@require_POST
def take_back(request, number, pk, reading):
    """Leave a reading out, or count it again."""
    one = get_object_or_404(Reading, pk=reading, run__pk=pk, run__job__number=number)
    timing.take_back(reading=one, taken_back=request.POST.get("do") != "count")
    return _page(request, _run(number, pk)) if request.htmx else redirect("jobs:run", number, pk)
