"""What every request passes through: page policy, the demo's sign-in, and devices in use."""

from django.conf import settings
from django.contrib.auth import get_user_model, login
from django.core.exceptions import MiddlewareNotUsed

from workshop.accounts.sessions import note_use
from workshop.accounts.this_machine import is_from_here
from workshop.requests.access import FORM, rule_of

PAGE_POLICY = "default-src 'self'; base-uri 'none'; object-src 'none'; form-action 'self'; frame-ancestors 'none'"


class ContentSecurityPolicy:
    """Let pages load and run only what this workshop serves, nothing inline."""

    def __init__(self, get_response):
        self.get_response = get_response

    def __call__(self, request):
        response = self.get_response(request)
        if response.get("Content-Type", "").startswith("text/html"):
            response.setdefault("Content-Security-Policy", PAGE_POLICY)
        return response


class DemoSignIn:
    """Sign the demo's visitor in, on this machine only; absent from one's own workshop."""

    def __init__(self, get_response):
        if not settings.DIALSIDE_DEMO or settings.ON_NETWORK:
            raise MiddlewareNotUsed
        self.get_response = get_response

    def __call__(self, request):
        if not request.user.is_authenticated and is_from_here(request):
            visitor, made = get_user_model().objects.get_or_create(
                username="demo", defaults={"is_staff": True, "is_superuser": True}
            )
            if made:
                visitor.set_unusable_password()
                visitor.save()
            login(request, visitor, backend="django.contrib.auth.backends.ModelBackend")
        return self.get_response(request)


class Devices:
    """Note that a signed-in device is in use."""

    def __init__(self, get_response):
        self.get_response = get_response

    def __call__(self, request):
        if request.user.is_authenticated:
            note_use(request)
        return self.get_response(request)


class NoStore:
    """Have no browser keep the pages of who is signed in; what sets its own time, such as photos, keeps that.

    A page for typing is kept for the way back, so that nothing typed is lost, and asked for anew everywhere else.
    """

    def __init__(self, get_response):
        self.get_response = get_response

    def __call__(self, request):
        response = self.get_response(request)
        if request.user.is_authenticated and "Cache-Control" not in response:
            match = request.resolver_match
            is_form = match is not None and rule_of(match.view_name) == FORM
            response["Cache-Control"] = "private, no-cache" if is_form else "private, no-store"
        return response
