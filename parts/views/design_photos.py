"""Photos of a design's pieces: added, shown, put away."""

from django.contrib import messages
from django.http import HttpRequest
from django.http.response import HttpResponseBase
from django.shortcuts import get_object_or_404, redirect
from django.utils.translation import gettext_lazy as lazy
from django.views.decorators.http import require_GET

from parts.designs.revisions import add_photos
from parts.models import HolderDesign, HolderPhoto
from parts.tools.archiving import archive_as_asked
from parts.tools.pictures import PhotoError, picture_response, read_all
from parts.tools.sent_only import sent_only


@sent_only("parts:holder", "pk")
def add(request, pk):
    """Store photos of the piece, several at once."""
    design = get_object_or_404(HolderDesign, pk=pk)
    try:
        pictures = read_all(request.FILES.getlist("photos"))
    except PhotoError as error:
        messages.error(request, lazy("{error} No photo was saved.").format(error=error))
        return redirect("parts:holder", pk)
    add_photos(design=design, pictures=pictures)
    messages.success(request, lazy("Photos saved: {count}.").format(count=len(pictures)))
    return redirect("parts:holder", pk)


@require_GET
def show(request: HttpRequest, pk: int, photo: int, *, small: bool = False) -> HttpResponseBase:
    """The photo, or its small picture."""
    picture = get_object_or_404(HolderPhoto, design=pk, pk=photo)
    return picture_response(picture.thumbnail if small else picture.file, f"holder-{pk}-photo-{photo}.jpg")


@sent_only("parts:holder", "pk")
def archive(request, pk, photo):
    """Put a photo away, or bring it back."""
    picture = get_object_or_404(HolderPhoto, design=pk, pk=photo)
    archive_as_asked(request, picture)
    return redirect("parts:holder", pk)
