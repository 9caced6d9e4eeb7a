"""Photos of a job: added, shown, archived."""

from django.contrib import messages
from django.http import HttpRequest
from django.http.response import HttpResponseBase
from django.shortcuts import get_object_or_404, redirect
from django.views.decorators.http import require_GET

from jobs import photos
from jobs.models import Photo, Stage
from jobs.money.visibility import refuse_money
from jobs.views.job import get_job
from parts.tools.archiving import is_archiving
from parts.tools.pictures import picture_response
from parts.tools.sent_only import sent_only

MOST_TOLD = 5
"""Files that are no photos, named one by one."""


@sent_only("jobs:job", "number")
def add(request, number):
    """Store photos from the tablet's camera or a folder, several at once."""
    job = get_job(number)
    stage = request.POST.get("stage") if request.POST.get("stage") in Stage.Kind.values else Stage.Kind.INTAKE
    files = request.FILES.getlist("photos")
    added, faults = photos.add_photos(job=job, stage=stage, files=files, by=request.user)
    if added:
        messages.success(request, f"{len(added)} photo{'s' if len(added) > 1 else ''} saved.")
    elif not faults:
        messages.error(request, "Choose one photo or more first.")
    for fault in faults[:MOST_TOLD]:
        messages.error(request, f"Not saved: {fault}")
    if len(faults) > MOST_TOLD:
        messages.error(request, f"Not saved: {len(faults) - MOST_TOLD} more files that are no photos.")
    return _back(job, stage)


def _back(job, stage):
    """The page that shows the photos: the job's, or that of the stage they belong to."""
    shown_there = stage in Stage.Kind.values and stage != Stage.Kind.INTAKE
    return redirect("jobs:stage", job.number, stage) if shown_there else redirect(job)


@require_GET
def show(request: HttpRequest, number: str, pk: int, *, small: bool = False) -> HttpResponseBase:
    """The photo itself, or its small picture."""
    photo = get_object_or_404(Photo, job__number=number, pk=pk)
    refuse_money(photo, request)
    return picture_response(photo.thumbnail if small else photo.file, f"{number}-photo-{pk}.jpg")


@sent_only("jobs:job", "number")
def archive(request, number, pk):
    """Archive a photo, or bring it back."""
    photo = get_object_or_404(Photo.objects.select_related("job"), job__number=number, pk=pk)
    refuse_money(photo, request)
    photos.archive(photo=photo, archived=is_archiving(request), by=request.user)
    return _back(photo.job, request.POST.get("stage"))
