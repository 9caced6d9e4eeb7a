"""Addresses that only take what is sent to them."""

from functools import wraps

from django.http import HttpResponseNotAllowed
from django.shortcuts import redirect


def sent_only(page, *names):
    """Take POST only; who comes by a link, such as after signing in again, is led to the page of that name.

    `names` are the parts of the view's own address that the page's address has too.
    """

    def decorator(view):
        @wraps(view)
        def taken(request, *args, **kwargs):
            if request.method == "POST":
                return view(request, *args, **kwargs)
            if request.method not in ("GET", "HEAD"):
                return HttpResponseNotAllowed(["POST"])
            return redirect(page, *(kwargs[name] for name in names))

        return taken

    return decorator
