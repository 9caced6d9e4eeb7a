"""What cannot be read at all, in words."""

from django.conf import settings
from django.core.exceptions import TooManyFieldsSent, TooManyFilesSent
from django.http import HttpResponseBadRequest
from django.template.loader import render_to_string


def bad_request(request, exception):
    """Say what was too much; of anything else, that it could not be read."""
    return HttpResponseBadRequest(render_to_string("400.html", {"sentence": _sentence(exception)}))


def _sentence(exception):
    if isinstance(exception, TooManyFilesSent):
        return f"More than {settings.DATA_UPLOAD_MAX_NUMBER_FILES} files at once are too many."
    if isinstance(exception, TooManyFieldsSent):
        return f"More than {settings.DATA_UPLOAD_MAX_NUMBER_FIELDS} fields in one form are too many."
    return "Dialside could not read the address or the form."
