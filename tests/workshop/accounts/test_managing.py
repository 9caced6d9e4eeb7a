"""What is done to an account is done whole or not at all."""

import pytest
from django.contrib.auth.models import User
from django.test import Client

from tests.conftest import signed_in
from tests.factories import PASSWORD, UserFactory
from workshop.accounts import links, managing, passwords, sessions
from workshop.accounts.roles import Role
from workshop.models import OneTimeLink

pytestmark = pytest.mark.django_db


class Broken(Exception):
    """Power cut, full disk."""


@pytest.fixture
def breaks(monkeypatch):
    """Call it with what is to break."""

    def fails(*_args, **_more):
        raise Broken

    return lambda module, name: monkeypatch.setattr(module, name, fails)


def test_an_owner_who_was_not_made_leaves_the_link_of_the_first_start(breaks):
    token = links.new_link()
    breaks(passwords, "prove")
    with pytest.raises(Broken):
        managing.make_owner(user=User(username="ines"), password=PASSWORD, token=token)
    assert not User.objects.exists()
    assert links.find_link(token, first=True)


def test_an_account_without_its_link_is_not_made(breaks):
    breaks(links, "new_link")
    with pytest.raises(Broken):
        managing.add_account(user=User(username="emil"), role=Role.BENCH)
    assert not User.objects.exists()


def test_a_password_that_was_not_chosen_leaves_its_link(breaks):
    user = UserFactory()
    token = links.new_link(user)
    breaks(sessions, "sign_out_all")
    with pytest.raises(Broken):
        managing.choose_password(token=token, password="jewel-setting-9")
    assert OneTimeLink.objects.filter(user=user).exists()
    assert User.objects.get().check_password(PASSWORD)


def test_a_password_is_not_changed_while_other_devices_stay_signed_in(breaks):
    user = UserFactory()
    breaks(sessions, "sign_out_all")
    with pytest.raises(Broken):
        managing.change_password(user=user, password="jewel-setting-9")
    assert User.objects.get().check_password(PASSWORD)


def test_a_change_of_password_leaves_the_device_it_is_made_on_and_no_other():
    user = UserFactory()
    here, _ = (signed_in(Client(), user) for _ in range(2))
    managing.change_password(user=user, password="jewel-setting-9", keep=here.session.session_key)
    assert list(user.sessions.values_list("session_key", flat=True)) == [sessions.stored(here.session.session_key)]
