"""The forms for the workshop's own pages."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from django import forms
from django.contrib.auth.forms import AuthenticationForm, BaseUserCreationForm, SetPasswordForm
from django.contrib.auth.forms import PasswordChangeForm as DjangoPasswordChangeForm
from django.contrib.auth.models import User
from django.utils.translation import gettext_lazy as lazy

from parts.tools.stale_guard import StaleGuard
from workshop.accounts import access_log, managing, passkeys, passwords, second_step, throttle
from workshop.accounts.roles import CHOICES, Role

if TYPE_CHECKING:
    from django.http import HttpRequest

NAME_HINT = "Letters, digits and @ . + - _, no spaces. Capitals count."
PASSWORD_HINT = "At least 10 characters: not digits alone, not a common password, not like your name."
"""What AUTH_PASSWORD_VALIDATORS ask for."""


class FirstStartForm(BaseUserCreationForm):
    """Makes the owner's account, who may do everything."""

    def __init__(self, *args, **kwargs):
        super().__init__(*args, **kwargs)
        self.fields["username"].label = "Name"
        self.fields["username"].help_text = f"You sign in with it. {NAME_HINT}"
        self.fields["password1"].help_text = PASSWORD_HINT
        self.fields["password2"].label = "Password again"
        self.fields["password2"].help_text = ""

    def make(self, token):
        return managing.make_owner(user=self.instance, password=self.cleaned_data["password1"], token=token)


class SignInForm(AuthenticationForm):
    """Asks for name and password, and slows down who guesses."""

    trusted = forms.BooleanField(
        required=False,
        label=lazy("Keep me signed in on this device"),
        help_text=lazy(
            "For 90 days without use, a year at most. If not ticked, until the browser closes or after 12 hours "
            "without use, 7 days at most."
        ),
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
    """A password or second step judged under the throttle: refused with the time to wait, wrong unless right.

    A second step is counted apart from the password, which who guesses at it knows.
    """

    def __init__(
        self,
        form: Any,
        name: str,
        request: HttpRequest,
        *,
        kind: access_log.Kind = access_log.Kind.WRONG_PASSWORD,
    ) -> None:
        self.form, self.name, self.request, self.kind = form, name, request, kind

    def __enter__(self):
        counted = self.name if self.kind == access_log.Kind.WRONG_PASSWORD else f"{self.kind} {self.name}"
        try:
            self.attempt = throttle.begin(name=counted, address=self.request.META.get("REMOTE_ADDR", ""))
        except throttle.Wait as wait:
            access_log.note_turned_away(self.request, self.name)
            self.form.wait = wait
            raise forms.ValidationError(str(wait), code="wait") from wait

    def __exit__(self, refused, *_):
        if refused is None:
            throttle.passed(self.attempt)
        else:
            access_log.note_wrong(self.kind, self.request, self.name)


class SecondStepForm(forms.Form):
    """Asks for a code of the app or a recovery code, or takes the passkey that the browser gives."""

    code = forms.CharField(
        required=False,
        max_length=40,
        label=lazy("Code"),
        help_text=lazy("The six digits that the app on your phone shows now, or one of your recovery codes."),
        widget=forms.TextInput({"autocomplete": "one-time-code", "autofocus": True, "autocapitalize": "none"}),
    )
    passkey = forms.CharField(required=False, max_length=20_000, widget=forms.HiddenInput)

    def __init__(self, *args: Any, request: HttpRequest, user: User, site: passkeys.Site | None, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.request, self.user, self.site, self.wait = request, user, site, None

    def clean(self):
        code, answer = self.cleaned_data.get("code"), self.cleaned_data.get("passkey")
        if not (code or answer):
            raise forms.ValidationError(lazy("Type the code, or use a passkey."))
        with Judged(self, self.user.get_username(), self.request, kind=access_log.Kind.WRONG_CODE):
            if answer:
                if not (self.site and passkeys.proves(self.request, self.site, self.user, answer)):
                    raise forms.ValidationError(
                        lazy("This passkey does not open the account. Try again, or type a code.")
                    )
            elif not second_step.takes_code(self.user, code):
                raise forms.ValidationError(
                    lazy(
                        "Wrong code, or one that was used already. An app shows a new one every 30 seconds; if it "
                        "never fits, the clock of the phone or of the workshop's machine is wrong."
                    )
                )
        return self.cleaned_data


class CodeAppForm(forms.Form):
    """Asks for a first code of an app, which shows that it has read the secret."""

    code = forms.CharField(
        max_length=40,
        label=lazy("Code that the app shows"),
        widget=forms.TextInput({"autocomplete": "one-time-code", "inputmode": "numeric"}),
    )

    def __init__(self, *args: Any, user: User, secret: str, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.user, self.secret = user, secret

    def clean_code(self):
        if not second_step.add_app(self.user, self.secret, self.cleaned_data["code"]):
            raise forms.ValidationError(
                lazy(
                    "This is not the code of now. Wait for the next one; if it never fits, the clock of the phone or "
                    "of the workshop's machine is wrong."
                )
            )
        return self.cleaned_data["code"]


class ChoosePasswordForm(SetPasswordForm):
    """Asks for a new password twice."""

    def __init__(self, *args, **kwargs):
        super().__init__(*args, **kwargs)
        self.fields["new_password1"].label = "Password"
        self.fields["new_password1"].help_text = PASSWORD_HINT
        self.fields["new_password2"].label = "Password again"
        self.fields["new_password2"].help_text = ""


class PasswordForm(DjangoPasswordChangeForm):
    """Asks for the old password and, twice, for the new one."""

    def __init__(self, *args: Any, request: HttpRequest, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.request, self.wait = request, None
        self.fields["old_password"].label = "Current password"
        self.fields["new_password1"].help_text = PASSWORD_HINT
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
