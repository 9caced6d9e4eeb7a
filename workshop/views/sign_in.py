"""The first start, which makes the owner's account, signing in, and choosing a password by a link."""

from datetime import datetime, timedelta

from django.conf import settings
from django.contrib import messages
from django.contrib.auth import login
from django.contrib.auth.models import User
from django.contrib.auth.views import LoginView, LogoutView
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render, resolve_url
from django.utils import timezone
from django.utils.crypto import constant_time_compare
from django.utils.decorators import method_decorator
from django.views.decorators.cache import never_cache
from django.views.decorators.debug import sensitive_post_parameters

from workshop.accounts import access_log, links, managing, passkeys, second_step
from workshop.accounts.forms import ChoosePasswordForm, FirstStartForm, SecondStepForm, SignInForm
from workshop.accounts.sessions import sign_in_device

WEAK = "Your password is easy to guess. Change it under your name, at the top right."
LONGEST_BETWEEN = timedelta(minutes=10)
"""Between the password and the second step."""
BACKEND = "django.contrib.auth.backends.ModelBackend"


@never_cache
@sensitive_post_parameters()
def first_start(request, token=""):
    """Make the owner's account by the link of the terminal; impossible once any account exists."""
    if not managing.needs_owner():
        return redirect("sign-in")
    if links.find_link(token, first=True) is None:
        return render(request, "workshop/first_start_closed.html", {"had_token": bool(token)}, status=403)
    form = FirstStartForm(request.POST or None)
    if form.is_valid():
        try:
            owner = form.make(token)
        except managing.Refused:
            return redirect("sign-in")
        return _welcome(request, owner)
    return render(request, "workshop/first_start.html", {"form": form}, status=422 if form.is_bound else 200)


@never_cache
@sensitive_post_parameters()
def choose_password(request, token):
    """Choose the password of an account by the link that its owner was given."""
    link = links.find_link(token)
    if link is None:
        return render(request, "workshop/link_closed.html", status=403)
    form = ChoosePasswordForm(link.user, request.POST or None)
    if form.is_valid():
        try:
            user = managing.choose_password(token=token, password=form.cleaned_data["new_password1"])
        except managing.Refused:
            return render(request, "workshop/link_closed.html", status=403)
        return _welcome(request, user)
    context = {"form": form, "account": link.user}
    return render(request, "workshop/choose_password.html", context, status=422 if form.is_bound else 200)


def _welcome(request, user):
    return _enter(request, user, about="with a new password, by a link")


def _enter(
    request: HttpRequest, user: User, *, trusted: bool = False, onward: str = "", about: str = ""
) -> HttpResponse:
    """Let in who gave the right password, by the second step where that is asked for."""
    onward = onward or resolve_url(settings.LOGIN_REDIRECT_URL)
    if second_step.is_asked(request, user):
        request.session["first_step"] = {
            "user": user.pk,
            "hash": user.get_session_auth_hash(),
            "at": timezone.now().isoformat(),
            "in": {"trusted": trusted, "onward": onward, "about": about},
        }
        return redirect("second-step")
    return _let_in(request, user, trusted=trusted, onward=onward, about=about)


def _let_in(request: HttpRequest, user: User, *, trusted: bool, onward: str, about: str) -> HttpResponse:
    login(request, user, backend=BACKEND)
    sign_in_device(request, trusted=trusted)
    access_log.note(access_log.Kind.SIGNED_IN, request=request, about=about)
    if second_step.is_missing(request, user):
        request.session["onward"] = onward
        return redirect("second-steps")
    return redirect(onward)


@never_cache
@sensitive_post_parameters()
def ask_second_step(request):
    """Ask who gave the right password for the second step; the ten minutes for it over, from the beginning."""
    first = request.session.get("first_step", {})
    user = _who_waits(first)
    if user is None:
        return redirect("sign-in")
    site = passkeys.site_of(request) if user.passkeys.exists() else None
    form = SecondStepForm(request.POST or None, request=request, user=user, site=site)
    if form.is_valid():
        del request.session["first_step"]
        return _let_in(request, user, **first["in"])
    options = passkeys.options_to_prove(request, site, user) if site else None
    status = 429 if form.wait else 422 if form.is_bound else 200
    return render(request, "workshop/second_step.html", {"form": form, "options": options}, status=status)


def _who_waits(first):
    if not first or timezone.now() - datetime.fromisoformat(first["at"]) > LONGEST_BETWEEN:
        return None
    user = User.objects.filter(pk=first["user"], is_active=True).first()
    return user if user and constant_time_compare(user.get_session_auth_hash(), first["hash"]) else None


@method_decorator(never_cache, name="dispatch")
class SignIn(LoginView):
    """Ask for name and password, or tell of the first start while there is no account."""

    authentication_form = SignInForm
    template_name = "workshop/sign_in.html"
    redirect_authenticated_user = True

    def dispatch(self, request, *args, **kwargs):
        if managing.needs_owner():
            return redirect("first-start")
        return super().dispatch(request, *args, **kwargs)

    def form_valid(self, form):
        if form.is_weak:
            messages.warning(self.request, WEAK)
        return _enter(
            self.request,
            form.get_user(),
            trusted=form.cleaned_data["trusted"],
            onward=self.get_success_url(),
        )

    def form_invalid(self, form):
        response = super().form_invalid(form)
        if form.wait:
            response.status_code, response["Retry-After"] = 429, str(form.wait.seconds)
        return response


class SignOut(LogoutView):
    """End the session, and have the browser forget the pages that its way back would show."""

    def post(self, request, *args, **kwargs):
        response = super().post(request, *args, **kwargs)
        response["Clear-Site-Data"] = '"cache"'
        return response
