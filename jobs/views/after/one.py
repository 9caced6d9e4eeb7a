"""One thing that falls due: its page, what is noted about it, and a message that goes out."""

from django.conf import settings
from django.contrib import messages
from django.http import Http404
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.utils.translation import gettext_lazy as lazy

from jobs.after import letters, noting
from jobs.after.due import all_due
from jobs.after.forms import DayForm, LetterForm
from jobs.after.listing import with_jobs
from jobs.after.texts import texts_for
from jobs.models import FollowUp
from jobs.views.job import get_job
from parts.tools.sent_only import sent_only


def follow_up(request, number, key):
    """One thing that falls due: its months, the words to send, and what is noted about it."""
    job, due = _due(number, key)
    form = DayForm(request.POST or None)
    do = request.POST.get("do", "")
    if do in ("want", "drop"):
        noting.want(job=job, due=due, is_wanted=do == "want", by=request.user)
        return redirect("jobs:follow-up", number, key)
    if form.is_valid() and do in ("done", "ask"):
        try:
            (noting.finish if do == "done" else noting.ask)(
                job=job, due=due, on=form.cleaned_data["on"], by=request.user
            )
        except noting.TooEarly as refusal:
            form.add_error("on", str(refusal))
        else:
            messages.success(request, lazy("Noted in the job's history."))
            return redirect("jobs:job-after", number) if do == "done" else redirect("jobs:follow-up", number, key)
    (line,) = with_jobs([due], timezone.localdate())
    context = {"job": job, "line": line, "form": form, "texts": texts_for(job=job, due=due)}
    context["can_send"] = letters.can_send(job)
    return render(request, "jobs/after/follow_up.html", context, status=422 if form.is_bound else 200)


def letter(request, number, key):
    """The message as it will go, to be changed and sent."""
    job, due = _due(number, key)
    texts = texts_for(job=job, due=due)
    if texts is None or not letters.can_send(job):
        messages.error(request, lazy("This customer gets no e-mail from here. Nothing was sent."))
        return redirect("jobs:follow-up", number, key)
    form = LetterForm(request.POST or None, initial={"subject": texts.subject, "body": texts.email})
    if form.is_valid():
        try:
            letters.send(job=job, due=due, by=request.user, **form.cleaned_data)
        except letters.NotSent as refusal:
            form.add_error(None, str(refusal))
        else:
            messages.success(
                request, lazy("Sent to {job.customer.email}. The job's history keeps what was sent.").format(job=job)
            )
            return redirect("jobs:follow-up", number, key)
    context = {"job": job, "due": due, "form": form, "sender": settings.DEFAULT_FROM_EMAIL, "texts": texts}
    return render(request, "jobs/after/letter.html", context, status=422 if form.is_bound else 200)


@sent_only("jobs:job-after", "number")
def undo(request, number, pk):
    """Take back that something was done."""
    note = get_object_or_404(FollowUp.objects.exclude(done_on=None).select_related("job"), job__number=number, pk=pk)
    noting.undo(note=note, by=request.user)
    return redirect("jobs:job-after", number)


def _due(number, key):
    job = get_job(number)
    due = next((due for due in all_due(job=job) if due.key == key), None)
    if due is None:
        raise Http404
    return job, due
