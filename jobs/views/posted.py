"""Addresses that only take what is sent to them."""

from functools import wraps

from django.http import HttpResponseNotAllowed
from django.shortcuts import redirect


def posted(view):
    """Take POST only; who comes by a link, such as after signing in again, is led to the page it was sent from."""

    @wraps(view)
    def taken(request, number=None, kind=None, **more):
        if request.method == "POST":
            place = {"number": number, "kind": kind}
            return view(request, **{name: value for name, value in place.items() if value is not None}, **more)
        if request.method not in ("GET", "HEAD"):
            return HttpResponseNotAllowed(["POST"])
        if number and kind:
            return redirect("jobs:stage", number, kind)
        if number:
            return redirect("jobs:job", number)
        return redirect("jobs:bench")

    return taken
