"""What was done to accounts and with all data, on a page for the owner; and the password asked for once more."""

import re
from datetime import timedelta

import pytest
from django.core.management import call_command
from django.test import Client
from django.urls import reverse
from django.utils import timezone

from tests.conftest import signed_in
from tests.factories import PASSWORD, CustomerFactory, UserFactory
from tests.reading import as_read
from workshop.accounts import access_log
from workshop.models import AccessEvent

pytestmark = pytest.mark.django_db


@pytest.fixture
def ines():
    return UserFactory(username="ines", is_superuser=True, is_staff=True)


@pytest.fixture
def late(ines):
    """A client whose password was typed twenty minutes ago."""
    client = signed_in(Client(), ines)
    session = client.session
    session["proved"] = (timezone.now() - timedelta(minutes=20)).isoformat()
    session.save()
    return client


def kinds():
    return list(AccessEvent.objects.order_by("pk").values_list("kind", flat=True))


def test_sign_ins_and_wrong_passwords_are_written_down_without_what_was_typed(ines):
    client = Client(REMOTE_ADDR="192.168.7.20")
    client.post("/sign-in/", {"username": "ines", "password": "wrong"})
    client.post("/sign-in/", {"username": "jewel-setting-9", "password": "ines"})
    client.post("/sign-in/", {"username": "ines", "password": PASSWORD})
    rows = list(AccessEvent.objects.order_by("pk").values_list("kind", "by", "address", "about"))
    assert rows == [
        ("wrong-password", ines.pk, "192.168.7.20", ""),
        ("wrong-password", None, "192.168.7.20", ""),
        ("signed-in", ines.pk, "192.168.7.20", ""),
    ]


def test_refusals_are_written_down(hand):
    hand.get("/people/")
    entry = AccessEvent.objects.get()
    assert (entry.kind, entry.by.username, entry.about) == ("refused", "hand", "people")
    Client().get("/people/")
    assert AccessEvent.objects.count() == 1


def test_what_is_done_to_accounts_is_written_down(owner_client, owner):
    owner_client.post("/people/", {"username": "emil", "role": "BENCH"})
    emil = owner.__class__.objects.get(username="emil")
    owner_client.post(f"/people/{emil.pk}/", {"role": "READER"})
    owner_client.post(f"/people/{owner.pk}/", {"role": "READER"})
    owner_client.post(f"/people/{emil.pk}/link/")
    owner_client.post(f"/people/{emil.pk}/put-away/")
    owner_client.post(f"/people/{emil.pk}/put-away/", {"do": "bring-back"})
    assert kinds() == ["account-added", "role-changed", "link-made", "switched-off", "switched-on"]
    assert set(AccessEvent.objects.values_list("by", "whom")) == {(owner.pk, emil.pk)}
    assert AccessEvent.objects.get(kind="role-changed").about == "now viewer"


def test_what_leaves_and_what_is_erased_is_written_down_without_a_name(owner_client):
    customer = CustomerFactory(name="Mara Quist")
    owner_client.post(reverse("export"))
    owner_client.post(reverse("jobs:customer-export", args=[customer.pk]))
    owner_client.post(reverse("jobs:customer-erase", args=[customer.pk]), {"name": "Nobody"})
    assert kinds() == ["exported", "given-out"]
    owner_client.post(reverse("jobs:customer-erase", args=[customer.pk]), {"name": "Mara Quist"})
    assert kinds() == ["exported", "given-out", "erased"]
    assert set(AccessEvent.objects.values_list("about", flat=True)) == {"", f"customer {customer.pk}"}


def test_an_export_by_command_is_written_down(tmp_path):
    call_command("export", str(tmp_path / "all.zip"))
    entry = AccessEvent.objects.get()
    assert (entry.kind, entry.by, entry.address) == ("exported", None, "")


def test_the_owner_reads_it_and_nobody_else(owner_client, hand, reader, owner):
    access_log.note(access_log.Kind.ROLE_CHANGED, by=owner, whom=owner, about="now viewer")
    page = as_read(owner_client.get("/people/log/").text)
    assert "Role changed: owner, now viewer" in page
    assert "this machine, by command" in page
    assert "/people/log/" in owner_client.get("/people/").text
    assert [client.get("/people/log/").status_code for client in (hand, reader)] == [403, 403]


def test_only_the_newest_entries_are_kept(monkeypatch):
    monkeypatch.setattr(access_log, "MOST", 3)
    for number in range(5):
        access_log.note(access_log.Kind.REFUSED, about=str(number))
    assert sorted(AccessEvent.objects.values_list("about", flat=True)) == ["2", "3", "4"]


@pytest.mark.parametrize("door", ["people", "person", "person-away", "person-link", "export", "erase", "give-out"])
def test_accounts_and_all_data_ask_for_the_password_once_more(late, ines, door):
    customer = CustomerFactory(name="Mara Quist")
    urls = {"people": "/people/", "export": "/export/", "person": f"/people/{ines.pk}/"}
    urls |= {"person-away": f"/people/{ines.pk}/put-away/", "person-link": f"/people/{ines.pk}/link/"}
    urls |= {name: f"/customers/{customer.pk}/{name}/" for name in ("erase", "give-out")}
    typed = {"username": "emil", "role": "BENCH", "name": "Mara Quist", "drop_photos": "on"}
    page = late.post(urls[door], typed)
    assert (page.status_code, "Your password once more" in page.text, kinds()) == (422, True, [])
    carried = dict(re.findall(r'<input type="hidden" name="(\w+)" value="([^"]*)">', page.text))
    assert carried.items() >= typed.items()
    wrong = late.post(urls[door], carried | {"proof": "wrong"})
    assert (wrong.status_code, "Wrong password. Capitals count." in wrong.text) == (422, True)
    assert kinds() == ["wrong-password"]
    assert "wrong" not in re.findall(r'value="([^"]*)"', wrong.text)
    right = late.post(urls[door], carried | {"proof": PASSWORD})
    assert right.status_code in (200, 302)
    assert "Your password once more" not in (right.text if not right.streaming else "")
    assert late.post("/people/", {"username": "x y"}).status_code == 422
    assert "Your password once more" not in late.post("/people/", {"username": "x y"}).text


def test_guessing_there_is_slowed_down_too(late):
    answers = [late.post("/export/", {"proof": f"guess {number}"}).status_code for number in range(7)]
    assert answers[0] == 422
    assert answers[-1] == 429


def test_looking_asks_for_nothing(late):
    assert late.get("/people/").status_code == 200


def test_a_password_typed_at_signing_in_counts(ines):
    client = Client()
    client.post("/sign-in/", {"username": "ines", "password": PASSWORD})
    assert client.post("/export/").status_code == 200


@pytest.mark.parametrize(
    ("url", "kept"),
    [("/customers/", "private, no-store"), ("/", "private, no-store"), ("/jobs/log/", "private, no-cache")],
)
def test_no_browser_keeps_a_page_that_shows_personal_data(owner_client, url, kept):
    assert owner_client.get(url)["Cache-Control"] == kept
