"""The bench: the home page, and the one search."""

from django.shortcuts import redirect, render
from django.views.decorators.http import require_GET

from jobs import bench
from jobs.models import Job, Stage


@require_GET
def home(request):
    """The open jobs, grouped by what they wait for."""
    stage = request.GET.get("stage", "") if request.GET.get("stage") in Stage.Kind.values else ""
    only = request.GET.get("only", "") if request.GET.get("only") in Job.WaitsFor.values else ""
    late = request.GET.get("late") == "on"
    groups = bench.groups(stage=stage, late=late, only=only, limit=500 if only else bench.SHOWN)
    lines = [(group, [(job, bench.next_action(job)) for job in group.jobs]) for group in groups]
    context = {"lines": lines, "stage": stage, "late": late, "only": only, "stages": Stage.Kind.choices[1:]}
    template = "jobs/_bench_groups.html" if request.htmx else "jobs/bench.html"
    return render(request, template, context | {"today": bench.today(), "any": any(group.count for group in groups)})


@require_GET
def search(request):
    """What the one box finds; a whole job number opens its job."""
    words = request.GET.get("q", "").strip()[:200]
    hits = bench.search(words)
    if not request.htmx and (job := Job.objects.filter(number=words).first()):
        return redirect(job)
    template = "jobs/_hits.html" if request.htmx else "jobs/search.html"
    return render(request, template, {"words": words, "hits": hits})
