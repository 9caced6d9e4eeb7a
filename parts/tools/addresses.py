"""Addresses of pages as other devices open them."""

from ipaddress import ip_address

from django.conf import settings
from django.http.request import split_domain_port


def address_for_others(request, path: str) -> str:
    """The whole address of a page as another device opens it; empty where none can, this machine alone being served."""
    if settings.DIALSIDE_LAN:
        return f"https://{settings.DIALSIDE_LAN}:{request.get_port()}{path}"
    host, _ = split_domain_port(request.get_host())
    return "" if _is_own(host) else request.build_absolute_uri(path)


def _is_own(host: str) -> bool:
    """Whether a host's name means the machine that asks."""
    try:
        return ip_address(host.strip("[]")).is_loopback
    except ValueError:
        return host == "localhost" or host.endswith(".localhost")
