"""The first start of one's own workshop, by the link that its terminal prints."""

import threading

import pytest
from django.contrib.auth import get_user_model
from django.db import connection
from django.test import Client

from tests.factories import UserFactory
from workshop.accounts.links import new_link
from workshop.accounts.passwords import unproven
from workshop.models import OneTimeLink

ANSWERS = {"username": "ines", "password1": "balance-cock-7", "password2": "balance-cock-7"}

pytestmark = pytest.mark.django_db


@pytest.fixture
def address():
    return f"/first-start/{new_link()}/"


def test_makes_the_owner_and_signs_in(client, address):
    assert "Create account" in client.get(address).text
    response = client.post(address, ANSWERS)
    assert (response.status_code, response["Location"]) == (302, "/")
    owner = get_user_model().objects.get()
    assert (owner.username, owner.is_staff, owner.is_superuser) == ("ines", True, True)
    assert owner.check_password("balance-cock-7")
    assert client.session["_auth_user_id"] == str(owner.pk)
    assert unproven() == []


def test_every_page_leads_to_where_the_link_is_told_while_there_is_no_account(client):
    response = client.get("/parts/", follow=True)
    assert [url for url, _ in response.redirect_chain] == ["/sign-in/?next=/parts/", "/first-start/"]
    assert response.status_code == 403
    assert "Look in the terminal window where <code>make run</code> was started" in response.text
    assert "<form" not in response.text


@pytest.mark.parametrize("wrong", ["", "x/", "A" * 43 + "/", "%00/"])
@pytest.mark.parametrize("method", ["get", "post"])
def test_nobody_becomes_the_owner_without_the_link(client, address, wrong, method):
    response = getattr(client, method)(f"/first-start/{wrong}", ANSWERS)
    assert response.status_code == 403
    assert "start it again with <code>make run</code>" in response.text
    assert not get_user_model().objects.exists()


def test_a_new_start_ends_the_link_of_the_one_before(client, address):
    newer = new_link()
    assert client.post(address, ANSWERS).status_code == 403
    assert client.post(f"/first-start/{newer}/", ANSWERS).status_code == 302


def test_a_link_for_a_password_makes_no_owner(client):
    user = UserFactory()
    token = new_link(user)
    get_user_model().objects.filter(pk=user.pk).update(is_active=False)
    assert client.post(f"/first-start/{token}/", ANSWERS)["Location"] == "/sign-in/"
    assert get_user_model().objects.count() == 1


def test_the_token_itself_is_kept_nowhere(address):
    token = address.split("/")[2]
    assert len(token) >= 43
    assert token not in str(OneTimeLink.objects.values())
    assert len(OneTimeLink.objects.get().digest) == 64


def test_what_a_password_has_to_be_is_said_in_our_words(client, address):
    page = client.get(address).text
    assert "At least 10 characters: not digits alone" in page
    assert "personal information" not in page


@pytest.mark.parametrize(
    ("changed", "field", "error"),
    [
        ({"password2": "balance-cock-8"}, "password2", "The two passwords differ. Type both again."),
        ({"password1": "short", "password2": "short"}, "password2", "at least 10 characters"),
        ({"password1": "1928374655", "password2": "1928374655"}, "password2", "entirely numeric"),
        ({"username": "Ines B"}, "username", "Use letters, digits and @ . + - _ only, and no spaces."),
        ({"username": ""}, "username", "Fill this in."),
    ],
)
def test_refuses_with_the_reason_on_the_field_and_keeps_the_link(client, address, changed, field, error):
    response = client.post(address, ANSWERS | changed)
    assert response.status_code == 422
    assert error in " ".join(response.context["form"].errors[field])
    assert f'id="id_{field}_error"' in response.text
    assert not get_user_model().objects.exists()
    assert client.post(address, ANSWERS).status_code == 302


@pytest.mark.parametrize("method", ["get", "post"])
def test_is_impossible_once_an_account_exists(client, address, method):
    UserFactory(username="first")
    response = getattr(client, method)(address, ANSWERS)
    assert (response.status_code, response["Location"]) == (302, "/sign-in/")
    assert [user.username for user in get_user_model().objects.all()] == ["first"]


@pytest.mark.django_db(transaction=True)
def test_of_many_at_the_same_time_one_becomes_the_owner():
    address, together, answered = f"/first-start/{new_link()}/", threading.Barrier(6), []

    def race(number):
        client = Client()
        together.wait()
        answered.append(client.post(address, ANSWERS | {"username": f"ines{number}"}).headers.get("Location"))
        connection.close()

    racers = [threading.Thread(target=race, args=[number]) for number in range(6)]
    for racer in racers:
        racer.start()
    for racer in racers:
        racer.join()
    assert (len(answered), answered.count("/")) == (6, 1)
    assert set(answered) <= {"/", "/sign-in/", None}
    assert get_user_model().objects.count() == 1
