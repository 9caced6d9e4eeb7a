"""Guessing passwords is slowed down, by account and by address, and nobody is locked out for good."""

import threading
from datetime import timedelta

import pytest
from django.db import connection
from django.test import Client
from django.utils import timezone

from tests.factories import PASSWORD, UserFactory
from workshop.accounts import throttle
from workshop.models import SignInFailure

pytestmark = pytest.mark.django_db
TABLET, OTHER, HERE = "192.168.7.20", "192.168.7.21", "127.0.0.1"


@pytest.fixture
def ines():
    return UserFactory(username="ines")


@pytest.fixture
def clock(monkeypatch):
    """Stands still until it is moved on: clock(seconds=31)."""
    start, gone = timezone.now(), []
    monkeypatch.setattr(timezone, "now", lambda: start + sum(gone, timedelta()))
    return lambda **span: gone.append(timedelta(**span))


def attempt(password="wrong", name="ines", address=TABLET):
    return Client(REMOTE_ADDR=address).post("/sign-in/", {"username": name, "password": password})


def wrong(times, **more):
    return [attempt(**more).status_code for _ in range(times)]


def test_five_wrong_ones_are_free_then_it_says_how_long_to_wait(ines, clock):
    assert wrong(6) == [200] * 5 + [429]
    page = attempt()
    assert "Too many wrong passwords. Wait 30 seconds, then try again." in page.text
    assert page["Retry-After"] == "30"


def test_while_waiting_even_the_right_one_is_not_looked_at_and_afterwards_it_opens(ines, clock):
    wrong(6)
    assert attempt(PASSWORD).status_code == 429
    clock(seconds=31)
    assert attempt(PASSWORD).status_code == 302


def test_each_further_wrong_one_doubles_the_wait_up_to_fifteen_minutes(ines, clock):
    waits = []
    wrong(5)
    for _ in range(8):
        page = attempt()
        waits.append(int(page["Retry-After"]))
        clock(seconds=waits[-1])
        wrong(1)
    assert waits == [30, 60, 120, 240, 480, 900, 900, 900]
    assert "Wait 15 minutes" in str(throttle.Wait(900))


def test_on_the_machine_itself_nobody_waits_longer_than_a_minute(ines, clock):
    wrong(5, address=HERE)
    for _ in range(12):
        page = attempt(address=HERE)
        assert int(page["Retry-After"]) <= 60
        clock(seconds=60)
        wrong(1, address=HERE)


def test_guessing_from_the_network_does_not_lock_the_owner_out_on_the_machine(ines, clock):
    for number in range(70):
        attempt(address=f"192.168.7.{number}")
    assert attempt(PASSWORD, address="192.168.7.200").status_code == 429
    assert attempt(PASSWORD, address=HERE).status_code == 302


def test_another_address_and_another_account_are_not_slowed(ines, clock):
    UserFactory(username="emil")
    wrong(6)
    assert attempt(PASSWORD, address=OTHER).status_code == 302
    assert attempt(PASSWORD, name="emil").status_code == 302


def test_one_address_that_tries_many_names_waits(ines, clock):
    assert [attempt(name=f"name{n}").status_code for n in range(21)] == [200] * 20 + [429]
    assert attempt(PASSWORD).status_code == 429


def test_a_name_in_other_letters_is_the_same_name(ines, clock):
    assert [attempt(name=name).status_code for name in ("ines", "Ines", " INES", "inEs", "iNes", "ines ")] == [
        *[200] * 5,
        429,
    ]


def test_the_right_one_clears_the_count_of_its_account_and_address_only(ines, clock):
    wrong(4)
    attempt(address=OTHER)
    assert attempt(PASSWORD).status_code == 302
    assert list(SignInFailure.objects.values_list("address", flat=True)) == [OTHER]
    assert wrong(5) == [200] * 5


def test_an_hour_later_all_is_forgotten(ines, clock):
    wrong(6)
    clock(minutes=61)
    assert wrong(5) == [200] * 5


def test_the_clock_set_back_makes_nobody_wait_longer_than_the_longest(ines, clock):
    wrong(6)
    clock(days=-3)
    assert int(attempt()["Retry-After"]) <= 900


def test_an_unknown_name_is_answered_like_a_known_one(ines, clock):
    known, unknown = attempt(), attempt(name="nobody", address=OTHER)
    error = known.context["form"].non_field_errors()
    assert error == unknown.context["form"].non_field_errors()
    assert (wrong(5), wrong(5, name="nobody", address=OTHER)) == ([200] * 4 + [429], [200] * 4 + [429])


def test_guessing_the_old_password_of_an_open_session_is_slowed_too(hand, clock):
    typed = {"old_password": "wrong", "new_password1": "jewel-setting-9", "new_password2": "jewel-setting-9"}
    assert [hand.post("/account/password/", typed).status_code for _ in range(6)] == [422] * 5 + [429]


@pytest.mark.django_db(transaction=True)
def test_many_at_the_same_time_gain_nothing():
    UserFactory(username="ines")
    together, answered = threading.Barrier(12), []

    def race():
        together.wait()
        answered.append(attempt().status_code)
        connection.close()

    racers = [threading.Thread(target=race) for _ in range(12)]
    for racer in racers:
        racer.start()
    for racer in racers:
        racer.join()
    assert sorted(answered) == [200] * 5 + [429] * 7
