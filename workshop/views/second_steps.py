"""The second steps of one's own account: an app's codes, passkeys and recovery codes, set up, shown once, removed."""

from django.contrib import messages
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils.safestring import mark_safe
from django.utils.translation import gettext_lazy as lazy
from django.views.decorators.cache import never_cache
from django.views.decorators.debug import sensitive_post_parameters

from parts.tools.qr import qr_svg
from parts.tools.sent_only import sent_only
from workshop.accounts import passkeys, second_step
from workshop.accounts.access_log import Kind, note
from workshop.accounts.forms import CodeAppForm
from workshop.models import CodeApp


@never_cache
def second_steps(request):
    """What the account has; also where somebody is led who signed in from the network without any."""
    site = passkeys.site_of(request)
    context = {
        "app": CodeApp.objects.filter(user=request.user).first(),
        "passkeys": request.user.passkeys.all(),
        "codes_left": request.user.recovery_codes.count(),
        "options": passkeys.options_to_add(request, site, request.user) if site else None,
        "onward": request.session.get("onward"),
    }
    return render(request, "workshop/second_steps.html", context)


@never_cache
@sensitive_post_parameters()
def code_app(request):
    """Set up an app: its square code, and a first code of it as proof."""
    secret = request.session.setdefault("app_secret", second_step.new_secret())
    form = CodeAppForm(request.POST or None, user=request.user, secret=secret)
    if form.is_valid():
        del request.session["app_secret"]
        note(Kind.STEP_ADDED, request=request, about="code app")
        return _added(request)
    context = {
        "form": form,
        "code": mark_safe(qr_svg(second_step.app_address(request.user, secret, request.get_host()))),
        "secret": " ".join(secret[at : at + 4] for at in range(0, len(secret), 4)),
    }
    return render(request, "workshop/code_app.html", context, status=422 if form.is_bound else 200)


@sent_only("second-steps")
def passkey_add(request):
    """Take a passkey that the browser made."""
    site, answer = passkeys.site_of(request), request.POST.get("answer", "")[:20_000]
    name = " ".join(request.POST.get("name", "").split())[:60]
    if not (site and passkeys.add(request, site, request.user, answer=answer, name=name)):
        messages.error(request, lazy("The browser gave no passkey that can be used. Try once more."))
        return redirect("second-steps")
    note(Kind.STEP_ADDED, request=request, about="passkey")
    return _added(request)


def _added(request):
    """The recovery codes where there are none yet, else back to the list."""
    messages.success(request, lazy("From now on signing in from the network takes this second step."))
    if request.user.recovery_codes.exists():
        return redirect("second-steps")
    return _codes_page(request)


@never_cache
@sent_only("second-steps")
def recovery_codes(request):
    """New recovery codes, shown once; the old ones no longer work."""
    if not second_step.has_one(request.user):
        return redirect("second-steps")
    return _codes_page(request)


def _codes_page(request):
    codes = second_step.new_recovery_codes(request.user)
    onward = request.session.pop("onward", reverse("second-steps"))
    return render(request, "workshop/recovery_codes.html", {"codes": codes, "onward": onward})


@sent_only("second-steps")
def code_app_remove(request):
    """Remove the app."""
    second_step.remove_app(request.user)
    return _removed(request, "code app")


@sent_only("second-steps")
def passkey_remove(request, pk):
    """Remove one passkey."""
    second_step.remove_passkey(request.user, pk)
    return _removed(request, "passkey")


def _removed(request, about):
    note(Kind.STEP_REMOVED, request=request, about=about)
    messages.success(request, lazy("The {about} is removed.").format(about=about))
    return redirect("second-steps")
