"""The bench: the home page, and the one search."""

from django.core.paginator import Paginator
from django.shortcuts import redirect, render
from django.views.decorators.http import require_GET

from jobs import bench
from jobs.after.due import waiting
from jobs.enquiries import listing as enquiries
from jobs.models import Job, Stage
from parts.models import Pairing
from parts.quick.where import all_marks

MOST = 500
"""Jobs of one group at most on its own page; more are found under all jobs."""
DRAFTS = 3
"""Fit checks that are not saved yet, shown on the bench; the rest stand under Fit checks."""


@require_GET
def home(request):
    """The open jobs, grouped by what they wait for."""
    stage = request.GET.get("stage", "") if request.GET.get("stage") in Stage.Kind.values else ""
    only = request.GET.get("only", "") if request.GET.get("only") in Job.WaitsFor.values else ""
    late = request.GET.get("late") == "on"
    groups = bench.groups(stage=stage, late=late, only=only, limit=MOST if only else bench.SHOWN)
    lines = [(group, [(job, bench.next_action(job)) for job in group.jobs]) for group in groups]
    context = {"lines": lines, "stage": stage, "late": late, "only": only, "stages": Stage.Kind.choices[1:]}
    context |= {"today": bench.today(), "any": any(group.count for group in groups)}
    if request.htmx:
        return render(request, "jobs/bench/_groups.html", context)
    context["overdue"], context["due"] = waiting(bench.today())
    context["asked"], context["ask_again"] = enquiries.waiting()
    if late_job := bench.most_late():
        context |= {"late_job": late_job, "late_action": bench.next_action(late_job)}
    context["drafts"] = Pairing.objects.drafts().select_related("case", "movement")[:DRAFTS]
    asked = context["asked"] or context["ask_again"]
    if not (context["any"] or context["drafts"] or asked or Job.objects.exists()):
        context["first_marks"] = all_marks()
    return render(request, "jobs/bench/bench.html", context)


@require_GET
def search(request):
    """What the one box finds; a whole job number opens its job."""
    words = request.GET.get("q", "").replace("\0", " ").strip()[:200]
    hits = bench.search(words)
    if not request.htmx and (job := Job.objects.filter(number=words).first()):
        return redirect(job)
    template = "jobs/bench/_hits.html" if request.htmx else "jobs/bench/search.html"
    return render(request, template, {"words": words, "words_to_find": words, "hits": hits})


@require_GET
def all_jobs(request):
    """Every job there is, open, closed or archived, newest first."""
    states = [*Job.State.choices, ("archived", "archived")]
    words = request.GET.get("q", "").replace("\0", " ").strip()[:200]
    state = request.GET.get("state", "") if request.GET.get("state") in dict(states) else ""
    page = Paginator(bench.jobs_like(words=words, state=state), 50).get_page(request.GET.get("page"))
    return render(request, "jobs/bench/jobs.html", {"page": page, "words": words, "state": state, "states": states})
