"""How forms look, and the forms for the workshop's own pages."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from django import forms
from django.contrib.auth.forms import AuthenticationForm, BaseUserCreationForm, SetPasswordForm
from django.contrib.auth.forms import PasswordChangeForm as DjangoPasswordChangeForm
from django.contrib.auth.models import User
from django.forms.renderers import TemplatesSetting

from parts.tools.stale_guard import StaleGuard
from workshop.accounts import access_log, managing, passwords, throttle
from workshop.accounts.roles import CHOICES, Role

if TYPE_CHECKING:
    from django.http import HttpRequest

NAME_HINT = "Letters, digits and @ . + - _, no spaces. Capitals count."


class Renderer(TemplatesSetting):
    """Renders every form field with label, hint and error from one template."""

    field_template_name = "_field.html"


class FirstStartForm(BaseUserCreationForm):
    """Makes the owner's account, who may do everything."""

    def __init__(self, *args, **kwargs):
        super().__init__(*args, **kwargs)
        self.fields["username"].label = "Name"
        self.fields["username"].help_text = f"You sign in with it. {NAME_HINT}"
        self.fields["password2"].label = "Password again"
        self.fields["password2"].help_text = ""

    def make(self, token):
        return managing.make_owner(user=self.instance, password=self.cleaned_data["password1"], token=token)


class SignInForm(AuthenticationForm):
    """Asks for name and password, and slows down who guesses."""

    trusted = forms.BooleanField(
        required=False,
        label="Keep me signed in on this device",
        help_text="For 90 days without use, a year at most. If not ticked, until the browser closes or after 12 hours "
        "without use, 7 days at most.",
    )
    error_messages = {
        **AuthenticationForm.error_messages,
        "invalid_login": "Wrong name or password. Capitals count.",
    }

    def __init__(self, *args, **kwargs):
        super().__init__(*args, **kwargs)
        self.fields["username"].label = "Name"
        self.wait = None

    def clean(self):
        name, password = self.cleaned_data.get("username"), self.cleaned_data.get("password")
        if not (name and password):
            return self.cleaned_data
        with Judged(self, name, self.request):
            cleaned = super().clean()
        self.is_weak = not passwords.prove(self.get_user(), password)
        return cleaned


class Judged:
    """A password that is judged under the throttle: refused with the time to wait, counted as wrong unless right."""

    def __init__(self, form, name, request):
        self.form, self.name, self.request = form, name, request

    def __enter__(self):
        try:
            self.attempt = throttle.begin(name=self.name, address=self.request.META.get("REMOTE_ADDR", ""))
        except throttle.Wait as wait:
            self.form.wait = wait
            raise forms.ValidationError(str(wait), code="wait") from wait

    def __exit__(self, kind, *_):
        if kind is None:
            throttle.passed(self.attempt)
        else:
            access_log.note_wrong_password(self.request, self.name)


class ChoosePasswordForm(SetPasswordForm):
    """Asks for a new password twice."""

    def __init__(self, *args, **kwargs):
        super().__init__(*args, **kwargs)
        self.fields["new_password1"].label = "Password"
        self.fields["new_password2"].label = "Password again"
        self.fields["new_password2"].help_text = ""


class PasswordForm(DjangoPasswordChangeForm):
    """Asks for the old password and, twice, for the new one."""

    def __init__(self, *args: Any, request: HttpRequest, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.request, self.wait = request, None
        self.fields["old_password"].label = "Current password"
        self.fields["new_password2"].label = "New password again"
        self.fields["new_password2"].help_text = ""

    def clean_old_password(self):
        with Judged(self, self.user.get_username(), self.request):
            return super().clean_old_password()


class RoleForm(StaleGuard, forms.Form):
    """What an account may do."""

    role = forms.ChoiceField(choices=CHOICES)

    def clean_role(self):
        return Role[self.cleaned_data["role"]]


class AccountForm(forms.ModelForm, RoleForm):
    """A new account: its name and role; its person chooses the password."""

    class Meta:
        model = User
        fields = ("username",)
        labels = {"username": "Name"}
        help_texts = {"username": f"The person signs in with it. {NAME_HINT}"}

    def make(self):
        return managing.add_account(user=self.instance, role=self.cleaned_data["role"])
