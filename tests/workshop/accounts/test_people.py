"""Accounts: added by the owner, given a role, archived, never deleted; an owner always stays."""

import re
from datetime import timedelta

import pytest
from django.contrib.auth.models import User
from django.test import Client
from django.utils import timezone

from jobs.history import record
from tests.conftest import signed_in
from tests.factories import PASSWORD, JobFactory, UserFactory
from workshop.accounts.links import new_link
from workshop.accounts.roles import Role, role_of
from workshop.models import OneTimeLink

pytestmark = pytest.mark.django_db
CHOSEN = {"new_password1": "jewel-setting-9", "new_password2": "jewel-setting-9"}


def link_in(page):
    return re.search(r"https?://[^/]+(/choose-password/[\w-]{43}/)", page.text)[1]


def add(owner_client, name="emil", role="BENCH"):
    return owner_client.post("/people/", {"username": name, "role": role})


def test_the_owner_adds_a_bench_hand_who_chooses_a_password_by_the_link(owner_client):
    page = add(owner_client)
    link, emil = link_in(page), User.objects.get(username="emil")
    assert "<svg" in page.text
    assert (role_of(emil), emil.has_usable_password()) == (Role.BENCH, False)
    client = Client()
    assert "You sign in as <b>emil</b>" in client.get(link).text
    assert client.post(link, CHOSEN)["Location"] == "/"
    assert client.get("/").context["user"] == emil
    emil.refresh_from_db()
    assert emil.check_password("jewel-setting-9")
    assert Client().post("/sign-in/", {"username": "emil", "password": "jewel-setting-9"}).status_code == 302


@pytest.mark.parametrize(
    ("role", "flags"), [("OWNER", (True, True)), ("BENCH", (True, False)), ("READER", (False, False))]
)
def test_each_role_can_be_given_and_changed(owner_client, role, flags):
    add(owner_client, role="READER")
    emil = User.objects.get(username="emil")
    owner_client.post(f"/people/{emil.pk}/", {"role": role})
    emil.refresh_from_db()
    assert (emil.is_staff, emil.is_superuser) == flags


@pytest.mark.parametrize(
    ("typed", "field", "error"),
    [
        ({"username": "owner"}, "username", "A user with that username already exists."),
        ({"username": "Emil B"}, "username", "Use letters, digits and @ . + - _ only, and no spaces."),
        ({"role": "KING"}, "role", "“KING” is not on the list. Choose from the list."),
    ],
)
def test_refuses_with_the_reason_on_the_field(owner_client, typed, field, error):
    page = owner_client.post("/people/", {"username": "emil", "role": "BENCH"} | typed)
    assert page.status_code == 422
    assert error in page.context["form"].errors[field][0]
    assert User.objects.count() == 1


def test_a_link_works_once_and_for_three_days(owner_client):
    link = link_in(add(owner_client))
    OneTimeLink.objects.update(until=timezone.now() - timedelta(seconds=1))
    late = Client().post(link, CHOSEN)
    assert (late.status_code, "Ask the owner for a new link" in late.text) == (403, True)
    OneTimeLink.objects.update(until=timezone.now() + timedelta(hours=1))
    assert Client().post(link, CHOSEN).status_code == 302
    assert Client().post(link, CHOSEN).status_code == 403


def test_a_newer_link_ends_the_older_one_and_leaves_the_old_password_until_it_is_used(owner_client):
    emil = UserFactory(username="emil")
    older, newer = (link_in(owner_client.post(f"/people/{emil.pk}/link/")) for _ in range(2))
    assert Client().get(older).status_code == 403
    emil.refresh_from_db()
    assert emil.check_password(PASSWORD)
    assert Client().get(newer).status_code == 200


def test_a_link_refuses_a_weak_password_and_keeps_working(owner_client):
    link = link_in(add(owner_client))
    page = Client().post(link, {"new_password1": "emil", "new_password2": "emil"})
    assert page.status_code == 422
    assert "too short" in " ".join(page.context["form"].errors["new_password2"])
    assert Client().get(link).status_code == 200


def test_no_link_makes_its_way_into_an_account_that_was_put_away(owner_client):
    link = link_in(add(owner_client))
    emil = User.objects.get(username="emil")
    owner_client.post(f"/people/{emil.pk}/put-away/")
    assert Client().post(link, CHOSEN).status_code == 403
    assert owner_client.post(f"/people/{emil.pk}/link/").status_code == 404


def test_who_is_put_away_is_out_at_once_stays_in_the_history_and_can_come_back(owner_client):
    emil, job = UserFactory(username="emil", is_staff=True), JobFactory()
    record(job=job, by=emil, kind="ticked", after="Dial tried")
    client = signed_in(Client(), emil)
    assert client.get("/").status_code == 200
    owner_client.post(f"/people/{emil.pk}/put-away/")
    assert client.get("/")["Location"] == "/sign-in/?next=/"
    wrong = Client().post("/sign-in/", {"username": "emil", "password": PASSWORD})
    assert "Wrong name or password" in wrong.text
    history = owner_client.get(f"/jobs/{job.number}/").text.split("Dial tried")[1].split("</li>")[0]
    assert "emil" in history
    owner_client.post(f"/people/{emil.pk}/put-away/", {"do": "bring-back"})
    assert Client().post("/sign-in/", {"username": "emil", "password": PASSWORD}).status_code == 302


def test_a_changed_role_holds_from_the_next_page_on(owner_client):
    emil = UserFactory(is_superuser=True, is_staff=True)
    client = signed_in(Client(), emil)
    assert client.get("/shop/").status_code == 200
    owner_client.post(f"/people/{emil.pk}/", {"role": "READER"})
    assert client.get("/shop/").status_code == 403


@pytest.mark.parametrize(("path", "sent"), [("", {"role": "BENCH"}), ("put-away/", {})])
def test_the_last_owner_stays_one(owner_client, owner, path, sent):
    UserFactory(is_superuser=True, is_active=False)
    without_password = UserFactory(is_superuser=True)
    without_password.set_unusable_password()
    without_password.save()
    page = owner_client.post(f"/people/{owner.pk}/{path}", sent, follow=True)
    assert "owner is the only owner who can sign in" in page.text
    owner.refresh_from_db()
    assert (owner.is_superuser, owner.is_active) == (True, True)
    UserFactory(is_superuser=True, is_staff=True)
    owner_client.post(f"/people/{owner.pk}/{path}", sent)
    owner.refresh_from_db()
    assert role_of(owner) < Role.OWNER


def test_the_maintenance_pages_have_no_accounts(owner_client):
    assert owner_client.get("/admin/").status_code == 200
    assert owner_client.get("/admin/auth/user/").status_code == 404


def test_a_token_of_one_is_no_token_of_another(owner_client):
    one, other = UserFactory(), UserFactory()
    token = new_link(one)
    new_link(other)
    Client().post(f"/choose-password/{token}/", CHOSEN)
    one.refresh_from_db()
    other.refresh_from_db()
    assert (one.check_password("jewel-setting-9"), other.check_password(PASSWORD)) == (True, True)
