"""Passwords that stood the test of strength, and accounts whose password did not yet."""

import hashlib

from django.contrib.auth import get_user_model
from django.contrib.auth.password_validation import validate_password
from django.core.exceptions import ValidationError

from workshop.models import ProvenPassword


def prove(user, password: str) -> bool:
    """Note whether a password that is known to be the user's is strong enough."""
    try:
        validate_password(password, user)
    except ValidationError:
        ProvenPassword.objects.filter(user=user).delete()
        return False
    ProvenPassword.objects.update_or_create(user=user, defaults={"digest": _digest(user)})
    return True


def unproven() -> list[str]:
    """The names of those who could sign in with a password that was never found strong enough."""
    users = get_user_model().objects.filter(is_active=True).select_related("proven").order_by("pk")
    return [
        user.get_username()
        for user in users
        if user.has_usable_password() and getattr(getattr(user, "proven", None), "digest", "") != _digest(user)
    ]


def _digest(user) -> str:
    return hashlib.sha256(user.password.encode()).hexdigest()
