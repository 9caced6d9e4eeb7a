"""Whether a request comes from the machine itself, where whoever sits may read the data folder anyway."""

from ipaddress import ip_address

from django.http import HttpRequest

_PASSED_ON = ("Forwarded", "X-Forwarded-For", "X-Forwarded-Host", "X-Real-IP", "Via")
"""Headers of a proxy: behind one on this machine every visitor's address looks like this machine's."""


def is_this_machine(address: str) -> bool:
    try:
        return ip_address(address).is_loopback
    except ValueError:
        return False


def is_from_here(request: HttpRequest) -> bool:
    """Whether a request was made on this machine, and not passed on by a proxy."""
    return is_this_machine(request.META.get("REMOTE_ADDR", "")) and not any(
        name in request.headers for name in _PASSED_ON
    )
