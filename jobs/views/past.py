"""Past swaps: found by words and dimensions; what came of a job."""

from django.contrib import messages
from django.shortcuts import redirect, render
from django.views.decorators.http import require_GET

from jobs.past import outcome as outcomes
from jobs.past.near import NearForm
from jobs.past.outcome_form import OutcomeForm
from jobs.past.record import catch_up
from jobs.past.search_form import PastForm
from jobs.views.job import get_job
from jobs.views.posted import posted
from parts.library import key_of


@require_GET
def past(request):
    """Past jobs by words and by what is known of them."""
    left = catch_up()
    form = PastForm(request.GET)
    found = form.find(key_of(request.GET.get("after", "")))
    return render(request, "jobs/past.html", {"form": form, "found": found, "left": left})


def outcome(request, number):
    """What came of the job: asked at handover, open at any time."""
    job = get_job(number)
    form = OutcomeForm(request.POST or None, instance=outcomes.outcome_of(job), kept=outcomes.kept_of(job))
    if form.is_valid():
        form.store(request.user)
        messages.success(request, "What came of it is on record.")
        return redirect(job)
    context = {"job": job, "form": form}
    return render(request, "jobs/outcome.html", context, status=422 if form.is_bound else 200)


@require_GET
def near(request):
    """Cases with nearly the same dimensions, and the jobs that were done on them."""
    left = catch_up()
    form = NearForm(request.GET)
    return render(request, "jobs/past_near.html", {"form": form, "found": form.find(), "left": left})


@posted
def learn(request, number):
    """Take the mark to learn from off, or put it on with the reason that is there."""
    job = get_job(number)
    on, why = request.POST.get("do") == "mark", request.POST.get("why", "").replace("\0", "").strip()[:300]
    if on and not why:
        messages.error(request, "Say in a few words what this job teaches; then it is marked.")
    else:
        outcomes.mark_to_learn(job=job, learn=on, why=why or outcomes.outcome_of(job).learn_why, by=request.user)
    return redirect(job)
