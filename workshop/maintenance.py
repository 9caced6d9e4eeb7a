"""The maintenance pages, without pages of their own for what accounts do: those would pass the throttle and the log."""

from django.contrib.admin import AdminSite
from django.shortcuts import redirect

from workshop.views.sign_in import SignOut


class MaintenancePages(AdminSite):
    """Signing in and out, and changing one's password, lead to the workshop's pages."""

    def login(self, request, extra_context=None):  # noqa: ARG002 - Django's signature
        return redirect("sign-in")

    def logout(self, request, extra_context=None):  # noqa: ARG002 - Django's signature
        return SignOut.as_view()(request)

    def password_change(self, request, extra_context=None):  # noqa: ARG002 - Django's signature
        return redirect("password")
