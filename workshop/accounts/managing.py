"""Accounts: the owner's at the first start, and those the owner adds, changes and puts away. None is ever deleted."""

from __future__ import annotations

from typing import TYPE_CHECKING

from django.conf import settings
from django.contrib.auth import get_user_model
from django.db import transaction

from workshop.accounts import links, passwords, sessions
from workshop.accounts.roles import Role, give_role, role_of

if TYPE_CHECKING:
    from django.contrib.auth.models import User


class Refused(Exception):
    """Says why something about an account is not done."""


def needs_owner() -> bool:
    """Tell whether this is one's own workshop with no account yet."""
    return not settings.DIALSIDE_DEMO and not get_user_model().objects.exists()


@transaction.atomic
def make_owner(*, user: User, password: str, token: str) -> User:
    """Make the owner's account with the first start's link, which is used up. Raises Refused for any other token."""
    link = links.find_link(token, first=True, lock=True)
    if link is None or not needs_owner():
        raise Refused("This link no longer works.")
    link.delete()
    give_role(user, Role.OWNER)
    user.set_password(password)
    user.save()
    passwords.prove(user, password)
    return user


@transaction.atomic
def add_account(*, user: User, role: Role) -> str:
    """Make an account that has no password yet; returns the token of the link to choose one."""
    give_role(user, role)
    user.set_unusable_password()
    user.save()
    return links.new_link(user)


@transaction.atomic
def choose_password(*, token: str, password: str) -> User:
    """Set the password of a link's account; signs out all its devices. Raises Refused for a link that does not work."""
    link = links.find_link(token, lock=True)
    if link is None or link.user is None:
        raise Refused("This link no longer works.")
    link.delete()
    change_password(user=link.user, password=password)
    return link.user


@transaction.atomic
def change_password(*, user: User, password: str, keep: str | None = None) -> None:
    """Set a password that stood the test of strength; all devices are signed out except the session `keep`."""
    user.set_password(password)
    user.save(update_fields=["password"])
    passwords.prove(user, password)
    sessions.sign_out_all(user, but=keep)


@transaction.atomic
def change_role(*, user: User, role: Role) -> None:
    """Give an account another role. Raises Refused for the last owner's."""
    user = get_user_model().objects.select_for_update().get(pk=user.pk)
    if role != Role.OWNER:
        _keep_an_owner(user)
    give_role(user, role)
    user.save(update_fields=["is_staff", "is_superuser"])


@transaction.atomic
def put_away(*, user: User, away: bool) -> None:
    """Put an account away, which signs it out everywhere, or bring it back. Raises Refused for the last owner's."""
    user = get_user_model().objects.select_for_update().get(pk=user.pk)
    if away:
        _keep_an_owner(user)
        sessions.sign_out_all(user)
    user.is_active = not away
    user.save(update_fields=["is_active"])


def _keep_an_owner(user):
    owners = get_user_model().objects.select_for_update().filter(is_superuser=True, is_active=True)
    others = [owner for owner in owners if owner.pk != user.pk and owner.has_usable_password()]
    if role_of(user) == Role.OWNER and not others:
        raise Refused(
            f"{user.get_username()} is the only owner who can sign in, and a workshop needs one. "
            "Make somebody else an owner first."
        )
