"""The first start, which makes the owner's account, signing in, and choosing a password by a link."""

from django.conf import settings
from django.contrib import messages
from django.contrib.auth import login
from django.contrib.auth.views import LoginView, LogoutView
from django.shortcuts import redirect, render
from django.utils.decorators import method_decorator
from django.views.decorators.cache import never_cache
from django.views.decorators.debug import sensitive_post_parameters

from workshop.accounts import access_log, links, managing
from workshop.accounts.forms import ChoosePasswordForm, FirstStartForm, SignInForm
from workshop.accounts.sessions import sign_in_device

WEAK = "Your password is easy to guess. Change it under your name, at the top right."
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
    login(request, user, backend=BACKEND)
    sign_in_device(request, trusted=False)
    access_log.note(access_log.Kind.SIGNED_IN, request=request, about="with a new password, by a link")
    return redirect(settings.LOGIN_REDIRECT_URL)


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
        response = super().form_valid(form)
        sign_in_device(self.request, trusted=form.cleaned_data["trusted"])
        access_log.note(access_log.Kind.SIGNED_IN, request=self.request)
        if form.is_weak:
            messages.warning(self.request, WEAK)
        return response

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
