"""Signed-in devices: how long they stay so, listed, signed out."""

import re
from datetime import timedelta

import pytest
from django.test import Client
from django.utils import timezone

from tests.conftest import signed_in
from tests.factories import PASSWORD, UserFactory
from workshop.accounts import sessions
from workshop.models import Session

pytestmark = pytest.mark.django_db
FIREFOX = "Mozilla/5.0 (X11; Linux x86_64; rv:140.0) Gecko/20100101 Firefox/140.0"
TABLET = "Mozilla/5.0 (Linux; Android 15) AppleWebKit/537.36 (KHTML, like Gecko) Chrome/140.0 Safari/537.36"


@pytest.fixture
def ines():
    return UserFactory(username="ines", is_superuser=True, is_staff=True)


def sign_in(agent=FIREFOX, address="127.0.0.1", **more):
    client = Client(headers={"User-Agent": agent}, REMOTE_ADDR=address)
    client.post("/sign-in/", {"username": "ines", "password": PASSWORD} | more)
    return client


@pytest.fixture
def clock(monkeypatch):
    """Moves the time on: clock(hours=13)."""
    real, gone = timezone.now, []
    monkeypatch.setattr(timezone, "now", lambda: real() + sum(gone, timedelta()))
    return lambda **span: gone.append(timedelta(**span))


def cookie_of(client):
    return client.cookies["dialside_workshop_session"]


def is_in(client):
    return client.get("/account/").status_code == 200


def test_a_trusted_device_stays_for_ninety_days_without_use(ines, clock):
    client = sign_in(trusted="on")
    assert cookie_of(client)["max-age"] == 90 * 24 * 3600
    assert (cookie_of(client)["httponly"], cookie_of(client)["samesite"]) == (True, "Lax")
    clock(days=89)
    assert is_in(client)
    clock(days=89)
    assert is_in(client)
    clock(days=91)
    assert not is_in(client)


def test_any_other_until_the_browser_closes_or_twelve_hours_without_use(ines, clock):
    client = sign_in()
    assert (cookie_of(client)["max-age"], cookie_of(client)["expires"]) == ("", "")
    clock(hours=11)
    assert is_in(client)
    clock(hours=11)
    assert is_in(client)
    clock(hours=13)
    assert not is_in(client)


def test_used_every_day_it_ends_all_the_same(ines, clock):
    here, trusted = sign_in(), sign_in(TABLET, trusted="on")
    for _ in range(16):
        assert is_in(here)
        clock(hours=10)
    clock(hours=9)
    assert not is_in(here)
    for _ in range(4):
        assert is_in(trusted)
        clock(days=80)
    assert is_in(trusted)
    clock(days=45)
    assert (is_in(trusted), sessions.devices(ines)) == (False, [])


def test_the_database_does_not_hold_what_opens_the_workshop(ines):
    here = sign_in()
    key = cookie_of(here).value
    assert Session.objects.get().session_key == sessions.stored(key) != key
    thief = Client()
    thief.cookies["dialside_workshop_session"] = Session.objects.get().session_key
    assert (is_in(here), is_in(thief)) == (True, False)
    here.post("/sign-out/")
    assert not Session.objects.exists()


def test_the_list_tells_browser_address_and_times_and_never_the_key(ines):
    here, tablet = sign_in(), sign_in(TABLET, "192.168.7.20", trusted="on")
    page = here.get("/account/")
    listed = page.text.partition("In the last 24 hours")[0]
    rows = re.findall(r"<tr>\s*<th scope=\"row\">(.*?)</tr>", listed, re.DOTALL)
    assert len(rows) == 2
    assert [word in rows[0] for word in ("Chrome on Android", "192.168.7.20", "90 days")] == [True] * 3
    assert "Firefox on Linux <small>this device</small>" in rows[1]
    assert "12 hours" in rows[1]
    assert all(key not in page.text for key in (here.session.session_key, tablet.session.session_key))


def test_a_device_whose_time_is_over_is_no_longer_listed(ines, clock):
    sign_in(TABLET)
    clock(hours=11)
    sign_in()
    clock(hours=11)
    assert [row.browser for _, row, _ in sessions.devices(ines)] == ["Firefox on Linux"]


def test_one_device_is_signed_out_from_another(ines):
    here, tablet = sign_in(), sign_in(TABLET)
    wanted = sessions.handle(tablet.session.session_key)
    here.post("/account/sign-out/", {"device": wanted})
    assert (is_in(here), is_in(tablet)) == (True, False)


def test_all_others_are_signed_out(ines):
    here, *others = sign_in(), sign_in(TABLET), sign_in()
    here.post("/account/sign-out/", {"device": "others"})
    assert [is_in(client) for client in (here, *others)] == [True, False, False]


def test_nobody_signs_out_anothers_device_but_the_owner(ines, hand):
    here = sign_in()
    wanted = sessions.handle(here.session.session_key)
    hand.post("/account/sign-out/", {"device": wanted})
    assert hand.post(f"/people/{ines.pk}/sign-out/", {"device": wanted}).status_code == 403
    assert is_in(here)
    emil = signed_in(Client(), UserFactory(username="emil"))
    emil_key = sessions.handle(emil.session.session_key)
    pk = emil.get("/account/").context["user"].pk
    assert "Signed in on" in here.get(f"/people/{pk}/").text
    here.post(f"/people/{pk}/sign-out/", {"device": emil_key})
    assert not is_in(emil)


def test_signing_out_everywhere_spares_only_the_owner_who_does_it(ines):
    here, tablet = sign_in(), sign_in(TABLET)
    here.post(f"/people/{ines.pk}/sign-out/", {"device": "all"})
    assert (is_in(here), is_in(tablet)) == (True, False)


def test_a_changed_password_signs_out_the_other_devices(ines):
    here, tablet = sign_in(), sign_in(TABLET)
    typed = {"old_password": PASSWORD, "new_password1": "jewel-setting-9", "new_password2": "jewel-setting-9"}
    assert here.post("/account/password/", typed)["Location"] == "/account/"
    assert (is_in(here), is_in(tablet)) == (True, False)
    assert Session.objects.filter(user=ines).count() == 1
    ines.refresh_from_db()
    assert ines.check_password("jewel-setting-9")


@pytest.mark.parametrize(
    ("typed", "field", "error"),
    [
        ({"old_password": "wrong"}, "old_password", "Your old password was entered incorrectly"),
        ({"new_password1": "short", "new_password2": "short"}, "new_password2", "at least 10 characters"),
    ],
)
def test_a_password_is_not_changed_without_the_old_one_or_to_a_weak_one(ines, typed, field, error):
    here = sign_in()
    good = {"old_password": PASSWORD, "new_password1": "jewel-setting-9", "new_password2": "jewel-setting-9"}
    page = here.post("/account/password/", good | typed)
    assert (page.status_code, error in " ".join(page.context["form"].errors[field])) == (422, True)
    ines.refresh_from_db()
    assert ines.check_password(PASSWORD)


def test_signing_out_drops_the_session_itself(ines):
    here = sign_in()
    cookie = cookie_of(here).value
    here.post("/sign-out/")
    assert not Session.objects.filter(session_key=sessions.stored(cookie)).exists()
    stolen = Client()
    stolen.cookies["dialside_workshop_session"] = cookie
    assert not is_in(stolen)


def test_signing_in_gives_a_new_key_so_that_a_planted_one_opens_nothing(ines):
    client = Client()
    client.cookies["dialside_workshop_session"] = "planted0planted0planted0planted0"
    client.post("/sign-in/", {"username": "ines", "password": PASSWORD})
    assert cookie_of(client).value != "planted0planted0planted0planted0"


@pytest.mark.parametrize(
    ("agent", "word"),
    [
        (FIREFOX, "Firefox on Linux"),
        (TABLET, "Chrome on Android"),
        ("curl/8.1", "curl/8.1"),
        ("", "unknown browser"),
        ("<script>alert(1)</script>" * 9, "scriptalert1/script" * 3 + "scr"),
    ],
)
def test_a_browser_has_a_word(agent, word):
    assert sessions.browser_word(agent) == word
