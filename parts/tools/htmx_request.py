"""A request as the views get it, with what the middleware found out about it."""

from django.http import HttpRequest
from django_htmx.middleware import HtmxDetails


class HtmxRequest(HttpRequest):
    """For annotations only; no view makes one."""

    htmx: HtmxDetails
    sees_money: bool
