"""The pairings that a job weighs: begun, added, chosen, ruled out."""

from django.contrib import messages
from django.core.exceptions import ValidationError
from django.shortcuts import get_object_or_404, redirect, render
from django.utils.translation import gettext_lazy as lazy
from django.views.decorators.http import require_GET

from jobs.models import OptionReport
from jobs.options import choosing
from jobs.options.forms import BeginForm, OptionForm
from jobs.stages import measuring
from jobs.stages.progress import closed_job
from jobs.views.job import get_job
from parts.instruments.hand import in_hand
from parts.library.measured import IN_A_LIST
from parts.models import Pairing
from parts.pairings.placing import place_of
from parts.tools.sent_only import sent_only
from parts.views.pairings import after_measuring
from parts.views.quick_check import propose_names


@sent_only("jobs:job", "number")
def begin(request, number):
    """Begin a fit check of the job's watch: a pairing of the job's own, opened to choose its other parts."""
    job = get_job(number)
    form = BeginForm(request.POST, job=job)
    if _refused(request, job, form, "Choose one of the cases of this family."):
        return redirect(job)
    made = choosing.add_option(job=job, pairing=form.pairing, by=request.user)
    if request.POST.get("do") == "quick":
        messages.success(
            request, lazy("Type what you measure. It is already an option of job {job.number}.").format(job=job)
        )
        family = {"family": job.case_family_id} if job.case_family_id else {"new_family": job.watch}
        propose_names(request, made.pairing.draft_key, watch=job.title, **family)
        return redirect("parts:quick", made.pairing.draft_key)
    messages.success(
        request, lazy("Choose the other parts and save. It is already an option of job {job.number}.").format(job=job)
    )
    return redirect("parts:pairing", made.pairing_id)


@sent_only("jobs:job", "number")
def add(request, number):
    """Weigh a kept pairing in this job."""
    job = get_job(number)
    form = OptionForm(request.POST, job=job)
    if not _refused(request, job, form, "Choose one of the saved fit checks."):
        choosing.add_option(job=job, pairing=form.cleaned_data["pairing"], by=request.user)
        messages.success(request, lazy("Added as an option. It is this job's own copy."))
    return redirect(job)


@sent_only("jobs:job", "number")
def change(request, number, pk):
    """Choose an option, rule it out, reconsider it, or renew its saved report."""
    job = get_job(number)
    option = get_object_or_404(job.options.select_related("job", "pairing"), pk=pk)
    do = request.POST.get("do")
    if _refused(request, job):
        return redirect(job)
    if do == "choose":
        choosing.choose(option=option, by=request.user)
    elif do == "renew":
        choosing.renew_report(option=option, by=request.user)
    elif do in ("rule-out", "reconsider"):
        choosing.rule_out(option=option, by=request.user, ruled_out=do == "rule-out")
    return redirect(job)


@sent_only("jobs:job", "number")
def measured_now(request, number, pk):
    """Store a number that was measured for an option (by its pairing), as one of the stage that is open."""
    job = get_job(number)
    option = get_object_or_404(job.options, pairing_id=pk)

    def store_it(*, path: str, text: str) -> None:
        if reasons := closed_job(job):
            raise ValidationError(reasons[0])
        pairing = Pairing.objects.with_parts().get(pk=option.pairing_id)
        if place_of(pairing, path) is None:
            raise ValidationError(IN_A_LIST)
        stage = measuring.stage_for(job, path)
        measuring.write_back(stage=stage, pairing=pairing, path=path, text=text, by=request.user, hand=in_hand(request))

    return after_measuring(request, pk, store_it)


def _refused(request, job, form=None, words=""):
    """Whether nothing is done, told in a message: the job is closed, or the form is wrong."""
    reasons = closed_job(job) or ([words] if form is not None and not form.is_valid() else [])
    for reason in reasons:
        messages.error(request, reason)
    return bool(reasons)


@require_GET
def saved_report(request, number, pk):
    """The report with its verdicts and numbers as they were computed."""
    saved_reports = OptionReport.objects.select_related("option__job", "option__pairing")
    saved_report = get_object_or_404(saved_reports, option__job__number=number, pk=pk)
    subjects = {}
    for check in saved_report.report["checks"]:
        subjects.setdefault(check["subject"], []).append(check)
    context = {
        "saved_report": saved_report,
        "job": saved_report.option.job,
        "report": saved_report.report,
        "subjects": list(subjects.items()),
    }
    return render(request, "jobs/options/saved_report.html", context)
