"""Signing in and out of one's own workshop."""

import pytest

from tests.factories import PASSWORD, UserFactory

pytestmark = pytest.mark.django_db


@pytest.fixture
def ines():
    return UserFactory(username="ines")


def answers(**changed):
    return {"username": "ines", "password": PASSWORD} | changed


def test_opens_the_page_that_was_asked_for(client, ines):
    response = client.post("/sign-in/", answers(next="/parts/"))
    assert (response.status_code, response["Location"]) == (302, "/parts/")
    assert client.session["_auth_user_id"] == str(ines.pk)


def test_sign_out_ends_the_session(client, ines):
    client.force_login(ines)
    response = client.post("/sign-out/")
    assert (response.status_code, response["Location"]) == (302, "/sign-in/")
    assert response["Clear-Site-Data"] == '"cache"'
    assert "_auth_user_id" not in client.session


def test_sign_out_by_a_mere_link_is_refused(client, ines):
    client.force_login(ines)
    assert client.get("/sign-out/").status_code == 405
    assert client.session["_auth_user_id"] == str(ines.pk)


@pytest.mark.parametrize("wrong", [{"password": "wrong"}, {"username": "nobody"}])
def test_refuses_a_wrong_name_or_password(client, ines, wrong):
    response = client.post("/sign-in/", answers(**wrong))
    assert response.status_code == 200
    assert "Wrong name or password." in response.text
    assert "_auth_user_id" not in client.session


def test_does_not_lead_to_another_site(client, ines):
    assert client.post("/sign-in/", answers(next="https://elsewhere.example/"))["Location"] == "/"


@pytest.mark.parametrize("address", ["/", "/parts/"])
def test_pages_are_closed_without_signing_in(client, ines, address):
    response = client.get(address)
    assert (response.status_code, response["Location"]) == (302, f"/sign-in/?next={address}")


def test_a_part_of_a_page_asks_the_browser_to_load_the_page_again(client, ines):
    response = client.get("/parts/", headers={"HX-Request": "true"})
    assert response["HX-Refresh"] == "true"
    assert response.text == ""
