"""One job: its page, its facts, its gates, and its end."""

from django.contrib import messages
from django.http import Http404
from django.shortcuts import get_object_or_404, redirect, render
from django.utils.translation import gettext_lazy as lazy

from jobs import go_ahead, luminous
from jobs.job import editing, state
from jobs.job.forms import ClearanceForm, GoAheadForm, JobForm
from jobs.job.page import job_context
from jobs.models import GoAhead, Job, LuminousClearance
from parts.tools.sent_only import sent_only
from parts.tools.stale_guard import for_saving, one_transaction


def get_job(number, held_by=None):
    """The job of this number; its row is held where the request `held_by` is to save something."""
    jobs = Job.objects.select_related("customer", "case_family")
    return get_object_or_404(for_saving(held_by, jobs), number=number)


def job(request, number):
    """Everything about one watch."""
    context = job_context(job=get_job(number), sees_money=request.sees_money)
    return render(request, "jobs/job/job.html", context)


@one_transaction
def edit(request, number):
    """Change what was agreed; refused where somebody else changed it in the meantime."""
    job = get_job(number, held_by=request)
    before = {name: getattr(job, name) for name in JobForm.Meta.fields}
    form = JobForm(request.POST or None, instance=job, sees_money=request.sees_money)
    if form.is_valid():
        editing.save_changes(job=job, before=before, by=request.user)
        messages.success(request, lazy("Job saved."))
        return redirect(job)
    return render(request, "jobs/job/edit.html", {"job": job, "form": form}, status=422 if form.is_bound else 200)


def give_go_ahead(request, number):
    """Record the customer's go-ahead."""
    job = get_job(number)
    form = GoAheadForm(request.POST or None)
    if form.is_valid():
        go_ahead.give(job=job, by=request.user, **form.cleaned_data)
        messages.success(request, lazy("Go-ahead saved."))
        return redirect(job)
    context = {"job": job, "form": form, "heading": "Note the go-ahead", "button": "Save"}
    return render(request, "jobs/job/form.html", context, status=422 if form.is_bound else 200)


def clear_luminous(request, number):
    """Record how unmarked aged luminous material was cleared."""
    job = get_job(number)
    form = ClearanceForm(request.POST or None)
    if form.is_valid():
        luminous.clear(job=job, by=request.user, **form.cleaned_data)
        messages.success(request, lazy("Clearance saved. The watch is no longer held back for its paint."))
        return redirect(job)
    context = {"job": job, "form": form, "cautions": luminous.CAUTIONS, "button": "Save"}
    context |= {"heading": "How was the luminous paint cleared?"}
    return render(request, "jobs/job/form.html", context, status=422 if form.is_bound else 200)


@sent_only("jobs:job", "number")
def undo(request, number, what, pk):
    """Undo a go-ahead or a clearance; it stays in the history."""
    job = get_job(number)
    if what == "clearance":
        luminous.undo(clearance=get_object_or_404(LuminousClearance, job=job, pk=pk), by=request.user)
    elif what == "go-ahead":
        go_ahead.undo(go_ahead=get_object_or_404(GoAhead, job=job, pk=pk), by=request.user)
    else:
        raise Http404
    return redirect(job)


@sent_only("jobs:job", "number")
def change_state(request, number):
    """Close the job, open it again, archive it, or say what it waits for."""
    job, do = get_job(number), request.POST.get("do", "")
    try:
        if do in (Job.State.FINISHED, Job.State.DECLINED, Job.State.RETURNED):
            anyway = request.POST.get("although_wanting") == "on"
            state.close_job(job=job, state=do, by=request.user, although_wanting=anyway)
        elif do == "open":
            state.open_job_again(job=job, by=request.user)
        elif do in ("archive", "bring-back"):
            state.archive(job=job, archived=do == "archive", by=request.user)
        elif request.POST.get("waits_for") in Job.WaitsFor.values:
            state.wait_for(job=job, whom=request.POST["waits_for"], by=request.user)
    except ValueError as refusal:
        messages.error(request, str(refusal))
    return redirect(job)


def history(request, number):
    """Everything that happened to the job, in order, nothing shortened."""
    job = get_job(number)
    return render(
        request, "jobs/job/history.html", {"job": job, "events": job.events.select_related("by").order_by("pk")}
    )
