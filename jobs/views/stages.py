"""One stage of a job: its checklist, measurements, time and remarks."""

from __future__ import annotations

from typing import TYPE_CHECKING

from django.contrib import messages
from django.core.exceptions import ValidationError
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.utils.translation import gettext_lazy as lazy

from jobs.history import changed
from jobs.job.page import job_context, stage_context
from jobs.models import Job, Stage, WorkTime
from jobs.options.choosing import chosen_option, report_of
from jobs.stages import measuring, progress, work_time
from jobs.stages.checklist import lines_of
from jobs.stages.forms import MinutesForm, RemarksForm, SkipForm
from parts.dimensions.field import Source
from parts.instruments.hand import in_hand
from parts.tools.sent_only import sent_only
from parts.tools.stale_guard import StalePage, for_saving, one_transaction

if TYPE_CHECKING:
    from django.forms import Form
    from django.http import HttpResponse

    from parts.tools.htmx_request import HtmxRequest


def _stage(number, kind, held_by=None):
    """The job's stage of this kind; its row is held where the request `held_by` is to save something."""
    stages = Stage.objects.select_related("job__customer", "job__case_family")
    return get_object_or_404(for_saving(held_by, stages), job__number=number, kind=kind)


def stage(request, number, kind):
    """The stage's page."""
    return _page(request, _stage(number, kind))


def _page(request: HtmxRequest, stage: Stage, *, status: int = 200, **forms: Form | str) -> HttpResponse:
    if request.htmx and _from_job(request):
        context = job_context(job=stage.job, sees_money=request.sees_money)
        return render(request, "jobs/stages/_work.html", context | forms, status=status)
    option = chosen_option(stage.job)
    context = stage_context(stage=stage, option=option)
    context |= {"asked": measuring.asked_in(stage, option.pairing) if option else [], "sources": Source.choices}
    context |= {"hand": in_hand(request), "back": "job" if _from_job(request) else "stage"}
    context |= {"remarks_form": RemarksForm(instance=stage), "minutes_form": MinutesForm()}
    template = "jobs/stages/_work.html" if request.htmx else "jobs/stages/stage.html"
    return render(request, template, context | forms, status=status)


def _from_job(request):
    """Whether the form was sent from the job's page, which then comes again."""
    return request.POST.get("back") == "job"


def _lead(request, job, kind):
    """Back to the page that the form was sent from, at the step that leads it."""
    page = job.get_absolute_url() if _from_job(request) or not kind else reverse("jobs:stage", args=[job.number, kind])
    return redirect(f"{page}#next-step")


@sent_only("jobs:stage", "number", "kind")
def tick(request, number, kind):
    """Tick an item of the checklist, or undo the tick."""
    stage = _stage(number, kind)
    report = report_of(chosen_option(stage.job))
    lines = lines_of(kind, report, stage.job, stage.ticks.all())
    item = next((line.item for line in lines if line.item.key == request.POST.get("item")), None)
    refusal = progress.holds_ticks(stage) or ("" if item else "The list has changed meanwhile. Check it again.")
    if not refusal:
        progress.tick(stage=stage, item=item, done=request.POST.get("done") == "on", by=request.user)
    return _ticked(request, stage, refusal)


@sent_only("jobs:stage", "number", "kind")
def tick_all(request, number, kind):
    """Tick all that is left of the checklist."""
    stage = _stage(number, kind)
    refusal = progress.holds_ticks(stage)
    if not refusal:
        progress.tick_all(stage=stage, report=report_of(chosen_option(stage.job)), by=request.user)
    return _ticked(request, stage, refusal)


def _ticked(request, stage, refusal):
    if request.htmx:
        return _page(request, stage, refusal=refusal)
    if refusal:
        messages.error(request, refusal)
    return _lead(request, stage.job, stage.kind)


@sent_only("jobs:stage", "number", "kind")
def close(request, number, kind):
    """Close the stage and go on with the next one, or say what holds it."""
    stage = _stage(number, kind)
    try:
        progress.close(stage=stage, report=report_of(chosen_option(stage.job)), by=request.user)
    except progress.StageBlocked as blocked:
        for reason in blocked.reasons:
            messages.error(request, reason)
        return _lead(request, stage.job, kind)
    return _gone_on(request, stage, "done")


def _gone_on(request, stage, word):
    """To the stage that comes next, with what became of this one."""
    job = Job.objects.get(pk=stage.job_id)
    onward = f"Next: {job.stage_word}." if job.stage else "All stages are done."
    messages.success(
        request,
        lazy("{stage} {word}. {onward} You can reopen it on its page.").format(
            stage=str(stage).capitalize(), word=word, onward=onward
        ),
    )
    return _lead(request, job, job.stage)


@sent_only("jobs:stage", "number", "kind")
def skip(request, number, kind):
    """Skip the stage, with a reason."""
    stage, form = _stage(number, kind), SkipForm(request.POST)
    if not form.is_valid():
        return _page(request, stage, status=422, skip_form=form)
    try:
        progress.skip(stage=stage, reason=form.cleaned_data["reason"], by=request.user)
    except progress.StageBlocked as blocked:
        messages.error(request, str(blocked))
        return redirect("jobs:stage", number, kind)
    return _gone_on(request, stage, "skipped")


@sent_only("jobs:stage", "number", "kind")
def open_again(request, number, kind):
    """Undo the closing or skipping of the stage."""
    try:
        progress.open_again(stage=_stage(number, kind), by=request.user)
    except progress.StageBlocked as blocked:
        messages.error(request, str(blocked))
    return redirect("jobs:stage", number, kind)


@sent_only("jobs:stage", "number", "kind")
def measurements(request, number, kind):
    """Write back what was measured, each number on its own: a wrong one does not hold the others."""
    stage = _stage(number, kind)
    option = chosen_option(stage.job)
    faults, changed, hand = {}, [], in_hand(request)
    for entry in measuring.typed(stage, option.pairing, request.POST) if option else ():
        try:
            changed += measuring.store(stage=stage, pairing=option.pairing, entry=entry, by=request.user, hand=hand)
        except (StalePage, measuring.NotKnown) as error:
            faults[entry.path] = (entry, str(error))
        except ValidationError as error:
            faults[entry.path] = (entry, error.messages[0])
    for change in changed:
        say = messages.warning if change.direction == "worse" else messages.info
        way = f" ({change.direction})" if change.direction != "other" else ""
        say(request, f"{change.title}{way}: was {change.before or 'not there'}, now {change.after or 'gone'}.")
    if faults:
        return _page(request, _stage(number, kind), status=422, faults=faults)
    messages.success(request, lazy("Measurements saved."))
    return _lead(request, stage.job, kind) if _from_job(request) else redirect("jobs:stage", number, kind)


@sent_only("jobs:stage", "number", "kind")
@one_transaction
def remarks(request, number, kind):
    """Save the stage's remarks."""
    stage = _stage(number, kind, held_by=request)
    form = RemarksForm(request.POST, instance=stage)
    if not form.is_valid():
        return _page(request, _stage(number, kind), status=422, remarks_form=form)
    changed(job=form.save().job)
    return redirect("jobs:stage", number, kind)


@sent_only("jobs:stage", "number", "kind")
def time_spent(request, number, kind):
    """Start or stop the timer, or put minutes in by hand."""
    stage, do = _stage(number, kind), request.POST.get("do")
    if do == "start":
        work_time.start_timer(stage=stage, by=request.user)
    elif do == "stop":
        work_time.stop_timers(stage=stage, by=request.user)
    else:
        form = MinutesForm(request.POST)
        if not form.is_valid():
            return _page(request, stage, status=422, minutes_form=form)
        work_time.add_minutes(stage=stage, by=request.user, **form.cleaned_data)
    return redirect(stage.job) if _from_job(request) else redirect("jobs:stage", number, kind)


@sent_only("jobs:stage", "number", "kind")
def leave_out_time(request, number, kind, pk):
    """Leave a stretch of time out of the sum, or count it again."""
    stretch = get_object_or_404(WorkTime, pk=pk, stage__job__number=number, stage__kind=kind)
    work_time.undo(work_time=stretch, by=request.user, undone=request.POST.get("do") != "count")
    return redirect("jobs:stage", number, kind)
