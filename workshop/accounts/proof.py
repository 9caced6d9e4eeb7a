"""Proof that whoever sits there still is who signed in: the password, asked for once more before what matters most."""

from datetime import datetime, timedelta
from typing import Any

from django import forms
from django.contrib.auth.models import AnonymousUser
from django.http import HttpRequest
from django.utils import timezone
from django.utils.translation import gettext_lazy as lazy

from workshop.accounts.forms import Judged

FRESH = timedelta(minutes=15)
"""How long a password counts after it was typed."""


def mark(request: HttpRequest) -> None:
    """Note that the password was just typed."""
    request.session["proved"] = timezone.now().isoformat()


def is_fresh(request: HttpRequest) -> bool:
    """Whether the password was typed lately; the demo's visitor has none to type."""
    if isinstance(request.user, AnonymousUser) or not request.user.has_usable_password():
        return True
    proved = request.session.get("proved")
    return proved is not None and timedelta(0) <= timezone.now() - datetime.fromisoformat(proved) < FRESH


class ProofForm(forms.Form):
    """Asks for the password of who is signed in."""

    proof = forms.CharField(
        label=lazy("Your password"),
        strip=False,
        widget=forms.PasswordInput({"autocomplete": "current-password", "autofocus": True}),
    )

    def __init__(self, *args: Any, request: HttpRequest, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.request, self.wait = request, None

    def clean_proof(self):
        user = self.request.user
        with Judged(self, user.get_username(), self.request):
            if not user.check_password(self.cleaned_data["proof"]):
                raise forms.ValidationError(lazy("Wrong password. Capitals count."))
        return ""
