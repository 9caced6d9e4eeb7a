"""The bench's network: under which addresses this machine is found there."""

from django.conf import settings


def address_for_others(request, path: str) -> str:
    """The whole address of a page as another device opens it."""
    if settings.DIALSIDE_LAN:
        return f"https://{settings.DIALSIDE_LAN}:{request.get_port()}{path}"
    return request.build_absolute_uri(path)
