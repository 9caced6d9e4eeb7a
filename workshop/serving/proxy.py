"""Behind a proxy on this machine that serves the workshop over TLS: under which address, and what it has to say."""

from __future__ import annotations

from typing import TYPE_CHECKING
from urllib.parse import urlsplit

from django.conf import settings
from django.core.exceptions import MiddlewareNotUsed
from django.http import HttpResponseBadRequest

from parts.fit.answer.listing import in_a_sentence

if TYPE_CHECKING:
    from django.http import HttpRequest, HttpResponse

SAID = ("X-Forwarded-For", "X-Forwarded-Proto")
"""Headers by which the proxy says who asks, and how: without them everybody would look like this machine itself."""
HEALTH = "/health/"


class WrongAddress(Exception):
    """Says what the address has to look like."""


def proxied_host(address: str) -> str:
    """The host of the address that people open. Raises WrongAddress."""
    parts = urlsplit(address)
    if parts.scheme != "https" or not parts.hostname or parts.path.strip("/") or parts.query or parts.username:
        raise WrongAddress(f"DIALSIDE_PROXY is the address that people open, such as https://name, not {address!r}.")
    return parts.hostname


class BehindProxy:
    """Answer nobody for whom the proxy does not say who asks; how the process does may be asked without."""

    def __init__(self, get_response):
        if not settings.DIALSIDE_PROXY:
            raise MiddlewareNotUsed
        self.get_response = get_response

    def __call__(self, request: HttpRequest) -> HttpResponse:
        lacking = [name for name in SAID if name not in request.headers]
        if not lacking or request.path == HEALTH:
            return self.get_response(request)
        return HttpResponseBadRequest(
            f"Open {settings.DIALSIDE_PROXY} instead. Did you? Then the proxy does not send {in_a_sentence(lacking)}: "
            "see docs/proxy.md.",
            content_type="text/plain",
        )
