"""Kept files as answers of a page."""

from __future__ import annotations

from typing import TYPE_CHECKING

from django.http import FileResponse, Http404

if TYPE_CHECKING:
    from django.db.models.fields.files import FieldFile


def kept_file_response(file: FieldFile, *, name: str, content_type: str, **headers: str) -> FileResponse:
    """A kept file under a name of ours, taken for nothing but its type. Raises Http404 where the file is gone."""
    try:
        opened = file.open("rb")
    except FileNotFoundError as error:
        raise Http404 from error
    headers = {"X-Content-Type-Options": "nosniff"} | headers
    return FileResponse(opened, content_type=content_type, filename=name, headers=headers)
