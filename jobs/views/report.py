"""A fit report as it was kept, however the parts have changed since."""

from django.shortcuts import get_object_or_404, render
from django.views.decorators.http import require_GET

from jobs.models import OptionReport


@require_GET
def kept_report(request, number, pk):
    """The report with its verdicts and numbers as they were computed."""
    found = OptionReport.objects.select_related("option__job", "option__pairing")
    kept = get_object_or_404(found, option__job__number=number, pk=pk)
    subjects = {}
    for check in kept.report["checks"]:
        subjects.setdefault(check["subject"], []).append(check)
    context = {"kept": kept, "job": kept.option.job, "report": kept.report, "subjects": list(subjects.items())}
    return render(request, "jobs/kept_report.html", context)
