"""What falls due: of all jobs month by month, of one job, and as a calendar file."""

from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.utils.translation import gettext_lazy as lazy
from django.views.decorators.http import require_GET

from jobs.after import noting
from jobs.after.calendar import calendar
from jobs.after.due import all_due
from jobs.after.forms import PromiseForm
from jobs.after.listing import groups, with_jobs
from jobs.views.job import get_job


@require_GET
def after(request):
    """What is overdue, what the next months bring, what comes later, and what nobody can tell."""
    today = timezone.localdate()
    return render(request, "jobs/after/after.html", {"groups": groups(today), "today": today})


@require_GET
def calendar_file(request):
    """The calendar as a file."""
    headers = {"Content-Disposition": 'attachment; filename="dialside.ics"'}
    return HttpResponse(calendar(), content_type="text/calendar; charset=utf-8", headers=headers)


def job_after(request, number):
    """Everything to look after of one job, and a new promise."""
    job = get_job(number)
    form = PromiseForm(request.POST or None)
    if form.is_valid():
        noting.promise(job=job, on=form.cleaned_data["begins"], words=form.cleaned_data["words"], by=request.user)
        messages.success(request, lazy("Promise noted. It stands under Looking after."))
        return redirect("jobs:job-after", number)
    context = {
        "job": job,
        "form": form,
        "lines": with_jobs(all_due(job=job), timezone.localdate()),
        "finished": job.follow_ups.exclude(done_on=None),
    }
    return render(request, "jobs/after/job.html", context, status=422 if form.is_bound else 200)
