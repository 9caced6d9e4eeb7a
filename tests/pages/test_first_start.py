"""The first start of one's own workshop."""

import pytest
from django.contrib.auth import get_user_model

from tests.factories import UserFactory

ANSWERS = {"username": "ines", "password1": "balance-cock-7", "password2": "balance-cock-7"}

pytestmark = pytest.mark.django_db


def test_makes_the_owner_and_signs_in(client):
    response = client.post("/first-start/", ANSWERS)
    assert (response.status_code, response["Location"]) == (302, "/")
    owner = get_user_model().objects.get()
    assert (owner.username, owner.is_staff, owner.is_superuser) == ("ines", True, True)
    assert owner.check_password("balance-cock-7")
    assert client.session["_auth_user_id"] == str(owner.pk)


def test_is_where_every_page_leads_while_there_is_no_account(client):
    response = client.get("/parts/", follow=True)
    assert [url for url, _ in response.redirect_chain] == ["/sign-in/?next=/parts/", "/first-start/"]
    assert "Make the account" in response.text


@pytest.mark.parametrize(
    ("changed", "field", "error"),
    [
        ({"password2": "balance-cock-8"}, "password2", "The two password fields didn’t match."),
        ({"password1": "short", "password2": "short"}, "password2", "at least 8 characters"),
        ({"password1": "19283746", "password2": "19283746"}, "password2", "entirely numeric"),
        ({"username": "Ines B"}, "username", "Enter a valid username"),
        ({"username": ""}, "username", "This field is required."),
    ],
)
def test_refuses_with_the_reason_on_the_field(client, changed, field, error):
    response = client.post("/first-start/", ANSWERS | changed)
    assert response.status_code == 200
    assert error in " ".join(response.context["form"].errors[field])
    assert f'id="id_{field}_error"' in response.text
    assert not get_user_model().objects.exists()


@pytest.mark.parametrize("method", ["get", "post"])
def test_is_impossible_once_an_account_exists(client, method):
    UserFactory(username="first")
    response = getattr(client, method)("/first-start/", ANSWERS)
    assert (response.status_code, response["Location"]) == (302, "/sign-in/")
    assert [user.username for user in get_user_model().objects.all()] == ["first"]
