"""What every request passes through: page policy, the demo's sign-in, and the locked door."""

from ipaddress import ip_address

from django.conf import settings
from django.contrib.auth import get_user_model, login
from django.contrib.auth.middleware import LoginRequiredMiddleware
from django.core.exceptions import MiddlewareNotUsed
from django_htmx.http import HttpResponseClientRefresh

PAGE_POLICY = "default-src 'self'; base-uri 'none'; form-action 'self'; frame-ancestors 'none'"


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
        if not settings.DIALSIDE_DEMO:
            raise MiddlewareNotUsed
        self.get_response = get_response

    def __call__(self, request):
        if not request.user.is_authenticated and _from_this_machine(request):
            visitor, made = get_user_model().objects.get_or_create(
                username="demo", defaults={"is_staff": True, "is_superuser": True}
            )
            if made:
                visitor.set_unusable_password()
                visitor.save()
            login(request, visitor, backend="django.contrib.auth.backends.ModelBackend")
        return self.get_response(request)


class SignInRequired(LoginRequiredMiddleware):
    """Lead who is not signed in to the sign-in page; reload the page when htmx asked for a part of it."""

    def handle_no_permission(self, request, view_func):
        if request.htmx:
            return HttpResponseClientRefresh()
        return super().handle_no_permission(request, view_func)


def _from_this_machine(request) -> bool:
    try:
        return ip_address(request.META.get("REMOTE_ADDR", "")).is_loopback
    except ValueError:
        return False
