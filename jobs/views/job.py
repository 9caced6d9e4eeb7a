"""One job: its page, its facts, its gates, and its end."""

from django.contrib import messages
from django.shortcuts import get_object_or_404, redirect, render

from jobs import luminous
from jobs.history import record, record_change
from jobs.job import state
from jobs.job.forms import ClearanceForm, GoAheadForm, JobForm
from jobs.job.page import job_context
from jobs.models import Event, GoAhead, Job, LuminousClearance
from jobs.views.posted import posted


def get_job(number):
    return get_object_or_404(Job.objects.select_related("customer", "case_family"), number=number)


def job(request, number):
    """Everything about one watch."""
    return render(request, "jobs/job/job.html", job_context(job=get_job(number)))


def edit(request, number):
    """Change what was agreed; refused where somebody else changed it in the meantime."""
    found = get_job(number)
    before = {name: getattr(found, name) for name in JobForm.Meta.fields}
    form = JobForm(request.POST or None, instance=found, sees_money=request.sees_money)
    if form.is_valid():
        form.save()
        for name in (name for name in before if getattr(found, name) != before[name]):
            values = {"field": Job._meta.get_field(name), "before": before[name], "after": getattr(found, name)}
            record_change(job=found, by=request.user, kind=Event.Kind.CHANGED, **values)
        messages.success(request, "The job is changed.")
        return redirect(found)
    return render(request, "jobs/job/edit.html", {"job": found, "form": form}, status=422 if form.is_bound else 200)


def go_ahead(request, number):
    """Record the customer's go-ahead."""
    found = get_job(number)
    form = GoAheadForm(request.POST or None, instance=GoAhead(job=found, by=request.user))
    if form.is_valid():
        made = form.save()
        facts = {"go_ahead": made.pk, "how": made.how}
        record(job=found, by=request.user, kind=Event.Kind.GO_AHEAD, data=facts, after=made.said_by)
        messages.success(request, "The go-ahead is recorded.")
        return redirect(found)
    context = {"job": found, "form": form, "heading": "Record the go-ahead", "button": "Record it"}
    return render(request, "jobs/job/form.html", context, status=422 if form.is_bound else 200)


def clear_luminous(request, number):
    """Record how unmarked aged luminous material was cleared."""
    found = get_job(number)
    form = ClearanceForm(request.POST or None)
    if form.is_valid():
        luminous.clear(job=found, by=request.user, **form.cleaned_data)
        messages.success(request, "The clearance is recorded.")
        return redirect(found)
    context = {"job": found, "form": form, "cautions": luminous.CAUTIONS, "button": "Record it"}
    context |= {"heading": "How was the luminous material cleared?"}
    return render(request, "jobs/job/form.html", context, status=422 if form.is_bound else 200)


@posted
def undo(request, number, what, pk):
    """Undo a go-ahead or a clearance; it stays in the history."""
    found = get_job(number)
    if what == "clearance":
        luminous.undo(clearance=get_object_or_404(LuminousClearance, job=found, pk=pk), by=request.user)
    else:
        said = get_object_or_404(GoAhead, job=found, pk=pk)
        said.undone = True
        said.save(update_fields=["undone"])
        facts = {"go_ahead": said.pk, "how": said.how}
        record(job=found, by=request.user, kind=Event.Kind.GO_AHEAD_UNDONE, data=facts, before=said.said_by)
    return redirect(found)


@posted
def change_state(request, number):
    """Close the job, open it again, archive it, or say what it waits for."""
    found, do = get_job(number), request.POST.get("do", "")
    try:
        if do in (Job.State.FINISHED, Job.State.DECLINED, Job.State.RETURNED):
            state.close_job(job=found, state=do, by=request.user)
        elif do == "open":
            state.open_job_again(job=found, by=request.user)
        elif do in ("archive", "bring-back"):
            state.archive(job=found, archived=do == "archive", by=request.user)
        elif request.POST.get("waits_for") in Job.WaitsFor.values:
            state.wait_for(job=found, whom=request.POST["waits_for"], by=request.user)
    except ValueError as refusal:
        messages.error(request, str(refusal))
    return redirect(found)


def history(request, number):
    """Everything that happened to the job, in order, nothing shortened."""
    found = get_job(number)
    return render(
        request, "jobs/job/history.html", {"job": found, "events": found.events.select_related("by").order_by("pk")}
    )
