"""Kept files as answers of a page."""

from django.http import FileResponse, Http404


def kept_file_response(file, *, name, content_type, **headers):
    """A kept file under a name of ours, taken for nothing but its type. Raises Http404 where the file is gone."""
    try:
        opened = file.open("rb")
    except FileNotFoundError as error:
        raise Http404 from error
    headers = {"X-Content-Type-Options": "nosniff"} | headers
    return FileResponse(opened, content_type=content_type, filename=name, headers=headers)
