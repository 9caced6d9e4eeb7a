"""Photos of a job: added, shown one by one, captioned, put in order, paired, marked, archived."""

import re

from django.contrib import messages
from django.http import Http404, HttpRequest
from django.http.response import HttpResponseBase
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.utils.translation import gettext_lazy as lazy
from django.utils.translation import ngettext_lazy as lazy_plural
from django.views.decorators.http import require_GET

from jobs.models import Photo, Stage
from jobs.money.visibility import refuse_money, without_money
from jobs.photos import arranging, marks, storing
from jobs.photos.forms import CaptionForm, MarkForm, PairForm
from jobs.views.job import get_job
from parts.tools.archiving import is_archiving
from parts.tools.kept_files import kept_file_response
from parts.tools.pictures import picture_response
from parts.tools.sent_only import sent_only

MOST_TOLD = 5
"""Files that are no photos, named one by one."""
_ORIGINALS = {"jpg": "image/jpeg", "png": "image/png", "webp": "image/webp"}


@sent_only("jobs:job", "number")
def add(request, number):
    """Store photos from the tablet's camera or a folder, several at once: of the stage's page, or of the stage now."""
    job, shown = get_job(number), request.POST.get("stage")
    stage = shown if shown in Stage.Kind.values else storing.stage_now(job)
    files = request.FILES.getlist("photos")
    added, faults = storing.add_photos(job=job, stage=stage, files=files, by=request.user)
    if added:
        messages.success(
            request, lazy_plural("{count} photo saved.", "{count} photos saved.", len(added)).format(count=len(added))
        )
    elif not faults:
        messages.error(request, lazy("Choose one photo or more first."))
    tell_faults(request, faults)
    return _back(job, shown)


def tell_faults(request, faults):
    """Name the files that are no photos; of many, the first ones."""
    for fault in faults[:MOST_TOLD]:
        messages.error(request, lazy("Not saved: {fault}").format(fault=fault))
    if len(faults) > MOST_TOLD:
        messages.error(
            request, lazy("Not saved: {count} more files that are no photos.").format(count=len(faults) - MOST_TOLD)
        )


def _back(job, stage):
    """The page that shows the photos: the job's, or that of the stage they belong to."""
    shown_there = stage in Stage.Kind.values and stage != Stage.Kind.INTAKE
    return redirect("jobs:stage", job.number, stage) if shown_there else redirect(job)


def _photo(request, number, pk):
    """The photo, where this account may see it."""
    photo = get_object_or_404(Photo.objects.select_related("job", "before"), job__number=number, pk=pk)
    refuse_money(photo, request)
    return photo


@require_GET
def show(request: HttpRequest, number: str, pk: int, *, small: bool = False) -> HttpResponseBase:
    """The photo itself, or its small picture."""
    photo = _photo(request, number, pk)
    return picture_response(photo.thumbnail if small else photo.file, f"{number}-photo-{pk}.jpg")


@require_GET
def original(request, number, pk):
    """The photo as it came, where it was kept: to save, since its coded picture was made elsewhere."""
    photo = _photo(request, number, pk)
    if not photo.original:
        raise Http404
    suffix = photo.original.name.rpartition(".")[2]
    name = f"{number}-photo-{pk}-original.{suffix}"
    response = kept_file_response(photo.original, name=name, content_type=_ORIGINALS[suffix])
    response.headers["Content-Disposition"] = f'attachment; filename="{name}"'
    return response


@require_GET
def page(request, number, pk):
    """One photo at full size, with its marks and what can be done with it."""
    return _page(request, _photo(request, number, pk))


def _page(request, photo, **bound):
    shown = without_money(photo.job.photos.filter(archived=False), request)
    keys = [each.pk for each in shown]
    at = keys.index(photo.pk) if photo.pk in keys else None
    place = "" if at is None else f"Photo {at + 1} of {len(keys)}"
    drawing = _drawing(photo, place or "Archived photo")
    context = {
        "job": photo.job,
        "photo": photo,
        "place": place or "Archived photo",
        "before_it": keys[at - 1] if at else None,
        "behind_it": keys[at + 1] if at is not None and at + 1 < len(keys) else None,
        "drawing": drawing,
        "after": Photo.objects.filter(before=photo).first(),
        "undone": any(mark.get("undone") for mark in photo.marks),
        "standing": marks.standing(photo),
    }
    forms = {"caption_form": CaptionForm(instance=photo), "pair_form": PairForm(photo=photo), "mark_form": MarkForm()}
    return render(request, "jobs/photos/photo.html", context | forms | bound, status=422 if bound else 200)


def _drawing(photo, words):
    """The photo with its marks; None where its file is gone."""
    address = reverse("jobs:photo", args=[photo.job.number, photo.pk])
    try:
        return marks.marked_svg(photo, address=address, words=photo.caption or words)
    except FileNotFoundError:
        return None


@sent_only("jobs:photo-page", "number", "pk")
def caption(request, number, pk):
    """Say what the photo shows."""
    photo = _photo(request, number, pk)
    form = CaptionForm(request.POST, instance=photo)
    if not form.is_valid():
        return _page(request, photo, caption_form=form)
    saved = _photo(request, number, pk)
    arranging.caption(photo=saved, words=form.cleaned_data["caption"], by=request.user)
    messages.success(request, lazy("Caption saved."))
    return redirect("jobs:photo-page", number, pk)


@sent_only("jobs:photo-page", "number", "pk")
def move(request, number, pk):
    """Move the photo earlier or later among those of its stage."""
    photo = _photo(request, number, pk)
    steps = request.POST.get("steps", "")
    if re.fullmatch(r"-?[0-9]{1,4}", steps):
        arranging.move(photo=photo, steps=int(steps))
    if request.POST.get("back") == "photo":
        return redirect("jobs:photo-page", number, pk)
    return redirect(f"{_back(photo.job, request.POST.get('stage')).url}#photos")


@sent_only("jobs:photo-page", "number", "pk")
def cover(request, number, pk):
    """Have the photo stand for its job, or no longer."""
    photo = _photo(request, number, pk)
    arranging.cover(photo=photo, is_cover=request.POST.get("do") != "drop" and not photo.has_money)
    return redirect("jobs:photo-page", number, pk)


@sent_only("jobs:photo-page", "number", "pk")
def pair(request, number, pk):
    """Set the photo beside the one that shows the same before the work."""
    photo = _photo(request, number, pk)
    form = PairForm(request.POST, photo=photo)
    if form.is_valid():
        try:
            arranging.pair(photo=photo, before=form.cleaned_data["before"])
            return redirect("jobs:photo-page", number, pk)
        except arranging.NoPair as refusal:
            form.add_error("before", str(refusal))
    return _page(request, photo, pair_form=form)


@sent_only("jobs:photo-page", "number", "pk")
def mark(request, number, pk):
    """Draw a mark on the photo, undo the last one, or bring it back."""
    photo, do = _photo(request, number, pk), request.POST.get("do", "")
    if do in ("undo", "redo"):
        (marks.undo if do == "undo" else marks.redo)(photo=photo)
        return redirect("jobs:photo-page", number, pk)
    form = MarkForm(request.POST)
    if form.is_valid():
        try:
            marks.draw(photo=photo, mark=form.mark)
            return redirect("jobs:photo-page", number, pk)
        except marks.TooMany as refusal:
            form.add_error(None, str(refusal))
    return _page(request, photo, mark_form=form)


@sent_only("jobs:job", "number")
def archive(request, number, pk):
    """Archive a photo, or bring it back."""
    photo = _photo(request, number, pk)
    storing.archive(photo=photo, archived=is_archiving(request), by=request.user)
    return _back(photo.job, request.POST.get("stage"))
