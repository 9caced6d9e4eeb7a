"""One job: its page, its facts, its gates, and its end."""

from django.contrib import messages
from django.shortcuts import get_object_or_404, redirect, render

from jobs import luminous
from jobs.history import record
from jobs.job import state
from jobs.job.forms import ClearanceForm, GoAheadForm, JobForm
from jobs.job.page import job_context
from jobs.models import GoAhead, Job, LuminousClearance
from jobs.views.posted import posted


def get_job(number):
    return get_object_or_404(Job.objects.select_related("customer", "case_family"), number=number)


def job(request, number):
    """Everything about one watch."""
    return render(request, "jobs/job/job.html", job_context(job=get_job(number)))


def edit(request, number):
    """Change what was agreed; refused where somebody else changed it in the meantime."""
    found = get_job(number)
    before = {name: str(getattr(found, name) or "") for name in JobForm.Meta.fields}
    form = JobForm(request.POST or None, instance=found, sees_money=request.sees_money)
    if form.is_valid():
        form.save()
        changed = [name for name in before if str(getattr(found, name) or "") != before[name]]
        for name in changed:
            label = form.fields[name].label
            record(
                job=found, by=request.user, what=f"Changed: {label}", before=before[name], after=getattr(found, name)
            )
        messages.success(request, "Job saved.")
        return redirect(found)
    return render(request, "jobs/job/edit.html", {"job": found, "form": form}, status=422 if form.is_bound else 200)


def go_ahead(request, number):
    """Record the customer's go-ahead."""
    found = get_job(number)
    form = GoAheadForm(request.POST or None, instance=GoAhead(job=found, by=request.user))
    if form.is_valid():
        made = form.save()
        record(job=found, by=request.user, what="Go-ahead recorded", after=made)
        messages.success(request, "Go-ahead saved.")
        return redirect(found)
    context = {"job": found, "form": form, "heading": "Note the go-ahead", "button": "Save"}
    return render(request, "jobs/job/form.html", context, status=422 if form.is_bound else 200)


def clear_luminous(request, number):
    """Record how unmarked aged luminous material was cleared."""
    found = get_job(number)
    form = ClearanceForm(request.POST or None)
    if form.is_valid():
        luminous.clear(job=found, by=request.user, **form.cleaned_data)
        messages.success(request, "Clearance saved. The watch is no longer held back for its paint.")
        return redirect(found)
    context = {"job": found, "form": form, "cautions": luminous.CAUTIONS, "button": "Save"}
    context |= {"heading": "How was the luminous paint cleared?"}
    return render(request, "jobs/job/form.html", context, status=422 if form.is_bound else 200)


@posted
def take_back(request, number, what, pk):
    """Undo a go-ahead or a clearance; it stays in the history."""
    found = get_job(number)
    if what == "clearance":
        luminous.take_back(clearance=get_object_or_404(LuminousClearance, job=found, pk=pk), by=request.user)
    else:
        said = get_object_or_404(GoAhead, job=found, pk=pk)
        said.taken_back = True
        said.save(update_fields=["taken_back"])
        record(job=found, by=request.user, what="Go-ahead taken back", before=said)
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
