"""What one account may do in a day has limits; who reaches one is told how much, and when there is room again."""

import threading
from datetime import UTC, datetime, timedelta

import pytest
from django.contrib.auth.models import User
from django.core.files.uploadedfile import SimpleUploadedFile
from django.db import connection
from django.urls import reverse
from django.utils import timezone

from jobs.models import Customer
from tests.factories import UserFactory
from workshop.models import AccessEvent, AccountUse
from workshop.requests import quota
from workshop.requests.access import RULES
from workshop.requests.quota import QUOTAS, UPLOADS, Quota, Spent, spend

pytestmark = pytest.mark.django_db
TWO = Quota("exports", "exports", 2)


def who(client):
    return User.objects.get(pk=client.session["_auth_user_id"])


@pytest.fixture
def clock(monkeypatch):
    """Stands still at 14:20 until it is moved on: clock(hours=1)."""
    start, gone = datetime(2026, 3, 2, 14, 20, tzinfo=UTC), []
    monkeypatch.setattr(timezone, "now", lambda: start + sum(gone, timedelta()))
    return lambda **span: gone.append(timedelta(**span))


@pytest.fixture
def only(monkeypatch):
    """Have one limit alone: only(quota)."""
    return lambda *quotas: monkeypatch.setattr(quota, "QUOTAS", quotas)


def test_as_much_as_the_limit_is_taken_and_no_more(clock):
    ines = UserFactory()
    spend(user=ines, quota=TWO, much=1)
    spend(user=ines, quota=TWO, much=1)
    with pytest.raises(Spent) as told:
        spend(user=ines, quota=TWO, much=1)
    assert str(told.value) == (
        "2 exports in the last 24 hours: one account may do 2. There is room again from 3 Mar 2026, 14:00."
    )
    assert AccountUse.objects.get().much == 2, "what is refused counts for nothing"


def test_bytes_are_told_with_what_this_would_add(clock):
    ines = UserFactory()
    spend(user=ines, quota=UPLOADS, much=9_900_000_000)
    spend(user=ines, quota=UPLOADS, much=100_000_000)
    with pytest.raises(Spent) as told:
        spend(user=ines, quota=UPLOADS, much=250_000_000)
    assert str(told.value).startswith(
        "10.00 GB uploaded in the last 24 hours, and this would be 0.25 GB more: one account may do 10.00 GB. "
    )


def test_there_is_room_again_when_it_was_said_and_as_much_as_is_old_enough(clock):
    ines, four = UserFactory(), Quota("exports", "exports", 4)
    spend(user=ines, quota=four, much=1)
    clock(hours=2)
    spend(user=ines, quota=four, much=3)
    with pytest.raises(Spent) as told:
        spend(user=ines, quota=four, much=2)
    assert told.value.again == datetime(2026, 3, 3, 16, tzinfo=UTC), "one hour's use alone makes no room for two"
    clock(hours=21, minutes=39)
    with pytest.raises(Spent) as told:
        spend(user=ines, quota=four, much=1)
    assert told.value.again == datetime(2026, 3, 3, 14, tzinfo=UTC)
    clock(minutes=1)
    spend(user=ines, quota=four, much=1)
    with pytest.raises(Spent):
        spend(user=ines, quota=four, much=1)


def test_another_account_and_another_limit_have_room(clock):
    ines, jan = UserFactory(), UserFactory()
    spend(user=ines, quota=TWO, much=2)
    spend(user=jan, quota=TWO, much=2)
    spend(user=ines, quota=Quota("letters", "e-mails sent", 2), much=2)
    with pytest.raises(Spent):
        spend(user=jan, quota=TWO, much=1)


@pytest.mark.django_db(transaction=True)
def test_many_at_the_same_time_gain_nothing():
    ines, together, answered = UserFactory(), threading.Barrier(8), []

    def race():
        together.wait()
        try:
            spend(user=ines, quota=TWO, much=1)
            answered.append("taken")
        except Spent:
            answered.append("refused")
        connection.close()

    racers = [threading.Thread(target=race) for _ in range(8)]
    for racer in racers:
        racer.start()
    for racer in racers:
        racer.join()
    assert sorted(answered) == ["refused"] * 6 + ["taken"] * 2


def test_a_clock_set_back_holds_nobody_up(clock):
    ines = UserFactory()
    clock(days=400)
    spend(user=ines, quota=TWO, much=2)
    clock(days=-400)
    spend(user=ines, quota=TWO, much=2)
    assert AccountUse.objects.get().hour == datetime(2026, 3, 2, 14, tzinfo=UTC)


def test_a_page_says_so_and_carries_on_what_was_typed(hand, only, clock):
    only(Quota("uploads", "uploaded", 1000, sent=("jobs:log",), in_bytes=True))
    AccountUse.objects.create(user=who(hand), what="uploads", hour=timezone.now(), much=1000)
    form = {"customer": "Mara Quist", "wish": 'A "quartz" movement', "came_with": ["strap", "box"]}
    form |= {"csrfmiddlewaretoken": "x", "photos": SimpleUploadedFile("dial.jpg", b"a picture", "image/jpeg")}
    page = hand.post("/jobs/log/", form)
    assert page.status_code == 429
    assert not Customer.objects.exists()
    text = page.text
    assert '<input type="hidden" name="customer" value="Mara Quist">' in text
    assert '<input type="hidden" name="wish" value="A &quot;quartz&quot; movement">' in text
    assert text.count('name="came_with"') == 2
    assert 'name="csrfmiddlewaretoken" value="x"' not in text
    assert "Choose once more: dial.jpg" in text
    assert '<input id="again-photos" type="file" name="photos" multiple>' in text


def test_a_part_of_a_page_that_is_refused_tells_why_and_leaves_the_page_as_it_is(hand, only):
    only(Quota("uploads", "uploaded", 0, sent=("jobs:log",), in_bytes=True))
    page = hand.post("/jobs/log/", {"customer": "Mara Quist"}, headers={"HX-Request": "true"})
    assert page.status_code == 429
    assert "one account may do 0.00 GB" in page.text
    assert "Mara Quist" not in page.text


def test_what_was_sent_without_a_form_of_many_parts_is_no_upload(hand, only):
    only()
    hand.post("/jobs/log/", "customer=Mara", content_type="application/x-www-form-urlencoded")
    assert not AccountUse.objects.exists()
    hand.post("/jobs/log/", {"customer": "Mara"})
    use = AccountUse.objects.get()
    assert (use.user, use.what) == (who(hand), "uploads")
    assert 50 < use.much < 500


def test_only_what_is_sent_counts_as_an_export_and_it_is_in_the_log_of_accounts_once(owner_client, only):
    only(Quota("exports", "exports", 1, sent=("export", "jobs:window-write")))
    assert owner_client.get("/window/write/").status_code in (200, 302)
    assert [owner_client.post("/export/").status_code for _ in range(4)] == [200, 429, 429, 429]
    entry = AccessEvent.objects.get(kind=AccessEvent.Kind.LIMIT_REACHED)
    assert (entry.by, entry.about) == (who(owner_client), "exports")
    assert AccessEvent.objects.filter(kind=AccessEvent.Kind.EXPORTED).count() == 1


def test_each_look_counts_where_the_look_is_the_work(reader, only):
    only(Quota("papers", "papers and files to print", 1, looked=("jobs:measuring-sheet",)))
    assert [reader.get("/measuring-sheet.pdf").status_code for _ in range(2)] == [200, 429]


def test_a_form_sent_twice_counts_once(hand):
    form = {
        "customer": "Mara Quist",
        "phone": "0151 2",
        "wish": "Quartz",
        "luminous": "none",
        "csrfmiddlewaretoken": "x",
    }
    assert hand.post("/jobs/log/", form).status_code == 302
    once = AccountUse.objects.get().much
    hand.post("/jobs/log/", form)
    assert AccountUse.objects.get().much == once


def test_nobody_signed_in_is_led_to_sign_in_and_counts_nothing(client):
    assert client.get("/measuring-sheet.pdf").status_code == 302
    assert not AccountUse.objects.exists()


def test_the_owner_sees_what_each_did_and_may_and_each_sees_their_own(owner_client, hand):
    AccountUse.objects.create(user=who(hand), what="uploads", hour=timezone.now(), much=1_250_000_000)
    AccountUse.objects.create(user=who(hand), what="sums", hour=timezone.now(), much=1234)
    AccountUse.objects.create(user=who(hand), what="letters", hour=timezone.now() - timedelta(hours=25), much=7)
    assert quota.used(who(hand)) == [
        ("Uploaded", "1.25 GB", "10.00 GB"),
        ("Exports", "0", "50"),
        ("E-mails sent", "0", "200"),
        ("Pictures measured", "0", "500"),
        ("Papers and files to print", "0", "2,000"),
        ("Chances and rankings worked out", "1,234", "5,000"),
    ]
    for page in (owner_client.get(reverse("person", args=[who(hand).pk])), hand.get("/account/")):
        assert '<th scope="row">Uploaded</th>' in page.text
        assert "<td>1.25 GB of 10.00 GB</td>" in page.text


def test_every_counted_address_is_one_that_there_is():
    named = [name for each in QUOTAS for name in (*each.sent, *each.looked)]
    assert len(named) == len(set(named)) > 20
    assert set(named) <= RULES.keys()
