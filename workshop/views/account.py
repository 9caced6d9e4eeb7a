"""One's own account: its devices and its password."""

from django.contrib import messages
from django.contrib.auth import update_session_auth_hash
from django.shortcuts import redirect, render
from django.utils.translation import gettext_lazy as lazy
from django.views.decorators.debug import sensitive_post_parameters
from django.views.decorators.http import require_GET

from parts.tools.sent_only import sent_only
from workshop.accounts import access_log, managing, proof, sessions
from workshop.accounts.forms import PasswordForm
from workshop.accounts.roles import MAY, role_of, role_word
from workshop.requests import quota


@require_GET
def account(request):
    """What one may do, and where one is signed in."""
    context = {"word": role_word(request.user), "may": MAY[role_of(request.user)]}
    context["devices"] = sessions.devices(request.user, request.session.session_key)
    context["uses"] = quota.used(request.user)
    return render(request, "workshop/account.html", context)


@sent_only("account")
def sign_out_device(request):
    """Sign out one of one's own devices, or all but this one."""
    if request.POST.get("device") == "others":
        sessions.sign_out_all(request.user, but=request.session.session_key)
        messages.success(request, lazy("All other devices are signed out."))
    else:
        sessions.sign_out_device(request.user, request.POST.get("device", ""))
        messages.success(request, lazy("That device is signed out."))
    return redirect("account")


@sensitive_post_parameters()
def password(request):
    """Change one's own password, which signs out all other devices."""
    form = PasswordForm(request.user, request.POST or None, request=request)
    if form.is_valid():
        chosen = form.cleaned_data["new_password1"]
        managing.change_password(user=request.user, password=chosen, keep=request.session.session_key)
        update_session_auth_hash(request, request.user)
        proof.mark(request)
        access_log.note(access_log.Kind.PASSWORD_CHANGED, request=request)
        messages.success(request, lazy("Password changed. All other devices are signed out."))
        return redirect("account")
    status = 429 if form.wait else 422 if form.is_bound else 200
    return render(request, "workshop/password.html", {"form": form}, status=status)
