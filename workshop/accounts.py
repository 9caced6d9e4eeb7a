"""The first start, which makes the owner's account, and signing in."""

from django.conf import settings
from django.contrib.auth import get_user_model, login
from django.contrib.auth.decorators import login_not_required
from django.contrib.auth.views import LoginView
from django.db import transaction
from django.shortcuts import redirect, render
from django.utils.decorators import method_decorator
from django.views.decorators.debug import sensitive_post_parameters

from workshop.forms import FirstStartForm, SignInForm


def needs_owner() -> bool:
    """Tell whether this is one's own workshop with no account yet."""
    return not settings.DIALSIDE_DEMO and not get_user_model().objects.exists()


@login_not_required
@sensitive_post_parameters()
@transaction.atomic
def first_start(request):
    """Make the owner's account; impossible once any account exists."""
    if not needs_owner():
        return redirect("sign-in")
    form = FirstStartForm(request.POST or None)
    if form.is_valid():
        login(request, form.save(), backend="django.contrib.auth.backends.ModelBackend")
        return redirect(settings.LOGIN_REDIRECT_URL)
    return render(request, "workshop/first_start.html", {"form": form})


@method_decorator(login_not_required, name="dispatch")
class SignIn(LoginView):
    """Ask for name and password, or lead to the first start while there is no account."""

    authentication_form = SignInForm
    template_name = "workshop/sign_in.html"
    redirect_authenticated_user = True

    def dispatch(self, request, *args, **kwargs):
        if needs_owner():
            return redirect("first-start")
        return super().dispatch(request, *args, **kwargs)
