"""The demo signs its visitor in; nothing else does."""

import pytest
from django.contrib.auth import get_user_model

from tests.factories import UserFactory

pytestmark = pytest.mark.django_db


@pytest.fixture
def demo(settings):
    settings.DIALSIDE_DEMO = True


@pytest.mark.parametrize("address", ["127.0.0.1", "127.0.0.9", "::1"])
def test_a_visitor_on_this_machine_is_signed_in(client, demo, address):
    response = client.get("/parts/", REMOTE_ADDR=address)
    assert response.status_code == 200
    assert response.context["user"].username == "demo"
    assert not response.context["user"].has_usable_password()
    assert "Demo<span> workshop</span>" in response.text
    assert "Sign out" not in response.text


def test_the_visitor_stays_the_same_person(client, demo):
    client.get("/parts/")
    client.get("/parts/")
    client.logout()
    client.get("/parts/")
    assert get_user_model().objects.count() == 1


@pytest.mark.parametrize("address", ["192.168.7.20", "10.0.0.1", "::ffff:192.168.7.20", "", "junk"])
def test_a_visitor_from_another_machine_is_not(client, demo, address):
    response = client.get("/parts/", REMOTE_ADDR=address)
    assert (response.status_code, response["Location"]) == (302, "/sign-in/?next=/parts/")
    assert not get_user_model().objects.exists()


@pytest.mark.parametrize("header", ["Forwarded", "X-Forwarded-For", "X-Forwarded-Host", "X-Real-IP", "Via"])
def test_a_visitor_behind_a_proxy_on_this_machine_is_not(client, demo, header):
    response = client.get("/parts/", REMOTE_ADDR="127.0.0.1", headers={header: "192.168.7.20"})
    assert (response.status_code, response["Location"]) == (302, "/sign-in/?next=/parts/")
    assert not get_user_model().objects.exists()


def test_nobody_is_on_the_network(client, demo, settings):
    settings.ON_NETWORK = True
    assert client.get("/parts/", REMOTE_ADDR="127.0.0.1").status_code == 302
    assert not get_user_model().objects.exists()


def test_nobody_can_make_themselves_its_owner(client, demo):
    answers = {"username": "ines", "password1": "balance-cock-7", "password2": "balance-cock-7"}
    response = client.post("/first-start/", answers, REMOTE_ADDR="192.168.7.20")
    assert response["Location"] == "/sign-in/"
    assert client.get("/sign-in/", REMOTE_ADDR="192.168.7.20").status_code == 200
    assert not get_user_model().objects.exists()


def test_ones_own_workshop_never_signs_anybody_in(client):
    UserFactory(username="demo")
    response = client.get("/parts/", REMOTE_ADDR="127.0.0.1")
    assert (response.status_code, response["Location"]) == (302, "/sign-in/?next=/parts/")
    assert "Demo workshop" not in client.get("/sign-in/").text
