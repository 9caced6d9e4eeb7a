"""Pages for what went wrong: plain words, a way on, no inner workings."""

import pytest
from django.core.exceptions import PermissionDenied
from django.test import Client
from django.urls import path

from workshop.urls import urlpatterns as real_urlpatterns


def broken(request):
    raise RuntimeError("inner workings")


def forbidden(request):
    raise PermissionDenied("inner workings")


urlpatterns = [*real_urlpatterns, path("broken/", broken), path("forbidden/", forbidden)]


@pytest.mark.urls(__name__)
@pytest.mark.parametrize(
    ("address", "status", "words"),
    [
        ("/no-such-page/", 404, "Page not found"),
        ("/forbidden/", 403, "Not with this account"),
        ("/broken/", 500, "Something went wrong"),
    ],
)
def test_says_what_happened_and_leads_on(owner_client, address, status, words):
    owner_client.raise_request_exception = False
    assert_plain(owner_client.get(address), status, words)


def test_an_address_of_another_host_is_refused(db):
    response = Client().get("/", headers={"Host": "elsewhere.example"})
    assert_plain(response, 400, "That did not work")


def test_a_form_without_its_token_is_refused(owner):
    response = Client(enforce_csrf_checks=True).post("/sign-in/", {"username": "owner"})
    assert_plain(response, 403, "This form is too old")


def assert_plain(response, status, words):
    assert response.status_code == status
    assert f"<h1>{words}</h1>" in response.text
    assert '<a class="button primary" href="/">Go to the bench</a>' in response.text
    assert "inner workings" not in response.text
    assert "Traceback" not in response.text
