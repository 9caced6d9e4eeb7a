"""The second step at signing in: a code of a phone's app, a passkey, or a recovery code, besides the password.

Asked for on the network by whoever set one up; at the machine itself never, for who sits there may read the data
folder anyway: so an owner without phone and codes still gets in there.
Source of the codes: RFC 6238, through pyotp.
"""

from __future__ import annotations

import secrets
from typing import TYPE_CHECKING

import pyotp
from django.db import transaction
from django.utils import timezone

from workshop.accounts.links import digest
from workshop.accounts.this_machine import is_from_here
from workshop.models import CodeApp, Passkey, RecoveryCode

if TYPE_CHECKING:
    from django.contrib.auth.models import User
    from django.http import HttpRequest

CODES = 10
"""Recovery codes that are given out at once."""
STEP_S = 30
"""Seconds for which a code shows; the one before and the one after count too, for clocks that differ."""
_LETTERS = "abcdefghjkmnpqrstuvwxyz23456789"
"""What a recovery code is made of: nothing that reads like something else. Ten of them are 49 bits."""


def has_one(user: User) -> bool:
    """Whether an account has a second step."""
    return CodeApp.objects.filter(user=user).exists() or user.passkeys.exists()


def holders() -> set[int]:
    """The accounts that have one."""
    return {*CodeApp.objects.values_list("user", flat=True), *Passkey.objects.values_list("user", flat=True)}


def is_asked(request: HttpRequest, user: User) -> bool:
    """Whether signing in to an account from where the request comes takes its second step."""
    return not is_from_here(request) and has_one(user)


def is_missing(request: HttpRequest, user: User) -> bool:
    """Whether somebody signs in from the network with nothing but a password."""
    return not is_from_here(request) and not has_one(user)


def new_secret() -> str:
    """What an app and the workshop are to share."""
    return pyotp.random_base32()


def app_address(user: User, secret: str, host: str) -> str:
    """What a phone's app reads from the square code."""
    return pyotp.TOTP(secret).provisioning_uri(name=user.get_username(), issuer_name=f"Dialside {host}")


@transaction.atomic
def add_app(user: User, secret: str, code: str) -> bool:
    """Take a code app for an account, once a first code of it is right."""
    step = _step_of(secret, code)
    if step is None:
        return False
    CodeApp.objects.update_or_create(user=user, defaults={"secret": secret, "last_step": step})
    return True


def takes_code(user: User, code: str) -> bool:
    """Whether a code of the app, or a recovery code, is right; neither is taken a second time."""
    code = "".join(code.split()).replace("-", "").lower()
    app = CodeApp.objects.filter(user=user).first()
    step = _step_of(app.secret, code) if app else None
    if step is not None:
        return bool(CodeApp.objects.filter(user=user, last_step__lt=step).update(last_step=step))
    return bool(RecoveryCode.objects.filter(user=user, digest=digest(code)).delete()[0])


def _step_of(secret: str, code: str) -> int | None:
    """The half minute in which the app shows this code, of now and the two beside it."""
    now, app = int(timezone.now().timestamp()) // STEP_S, pyotp.TOTP(secret)
    shown = "".join(code.split()).encode()
    steps = (now, now - 1, now + 1)
    return next((step for step in steps if secrets.compare_digest(app.at(step * STEP_S).encode(), shown)), None)


@transaction.atomic
def new_recovery_codes(user: User) -> list[str]:
    """New recovery codes in the place of the old, to be shown once."""
    codes = ["".join(secrets.choice(_LETTERS) for _ in range(10)) for _ in range(CODES)]
    RecoveryCode.objects.filter(user=user).delete()
    RecoveryCode.objects.bulk_create(RecoveryCode(user=user, digest=digest(code)) for code in codes)
    return [f"{code[:5]}-{code[5:]}" for code in codes]


@transaction.atomic
def remove_app(user: User) -> None:
    """An account without its code app; recovery codes go with the last second step."""
    CodeApp.objects.filter(user=user).delete()
    _without_codes(user)


@transaction.atomic
def remove_passkey(user: User, pk: int) -> None:
    """An account without one of its passkeys."""
    user.passkeys.filter(pk=pk).delete()
    _without_codes(user)


@transaction.atomic
def remove_all(user: User) -> None:
    """An account with its password alone, for who lost phone and codes."""
    user.passkeys.all().delete()
    remove_app(user)


def _without_codes(user):
    if not has_one(user):
        RecoveryCode.objects.filter(user=user).delete()
