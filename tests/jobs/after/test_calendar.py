"""The calendar, read back by another library than the one that writes it."""

import datetime as dt

import pytest
import vobject
from django.urls import reverse
from django.utils import timezone

from jobs.after import noting
from jobs.after.calendar import calendar
from jobs.after.due import all_due
from jobs.models import FollowUp
from tests.factories import CustomerFactory
from workshop.models import CalendarAddress

pytestmark = pytest.mark.django_db
HOME = dt.date(2024, 5, 10)
CANARY = {
    "name": "Canary Quillfeather",
    "email": "canary@quillfeather.example",
    "phone": "555 987654",
    "address": "1 Canary Row",
    "notes": "Canary note",
}


def read(content):
    """The events by their UID."""
    return {event.uid.value: event for event in vobject.readOne(content.decode()).vevent_list}


@pytest.fixture
def job(gone_home):
    return gone_home(HOME, customer=CustomerFactory(**CANARY))


def feed_of(client, **sent):
    page = client.post(reverse("calendar"), {"do": "make"} | sent).text
    start = page.index("/calendar/", page.index("shown only now"))
    return page[start : page.index("dialside.ics", start)] + "dialside.ics"


def test_a_cell_lies_over_all_its_months(job):
    events = read(calendar())
    cell = events[f"{job.number}-cell-20240510@dialside"]
    assert (cell.dtstart.value, cell.dtend.value) == (dt.date(2027, 7, 1), dt.date(2027, 11, 1))
    assert cell.summary.value == f"New cell due: {job.number} {job.title}"


def test_nothing_of_the_customer_is_in_it_but_by_choice(job, owner):
    noting.promise(job=job, on=dt.date(2027, 1, 2), words="Ring Canary", by=owner)
    assert b"anary" not in calendar()
    assert calendar(with_names=True).count(b"Canary Quillfeather") >= 2
    assert b"quillfeather.example" not in calendar(with_names=True)


def test_the_same_things_give_the_same_bytes_and_keep_their_uid(job, owner):
    noting.promise(job=job, on=dt.date(2027, 1, 2), words="Ring", by=owner)
    before = calendar()
    assert calendar() == before
    (cell,) = [due for due in all_due() if due.kind == FollowUp.Kind.CELL]
    noting.ask(job=job, due=cell, on=timezone.localdate(), by=owner)
    assert read(calendar()).keys() == read(before).keys()
    assert calendar() != before


def test_a_thing_is_stamped_with_when_it_was_noted_and_not_with_now(job, owner):
    promised = noting.promise(job=job, on=dt.date(2027, 1, 2), words="Ring", by=owner)
    noted = dt.datetime(2026, 2, 3, 4, 5, 6, tzinfo=dt.UTC)
    FollowUp.objects.update(changed=noted)
    stamps = {uid: event.dtstamp.value for uid, event in read(calendar()).items()}
    assert stamps[f"{job.number}-promise-{promised.pk}-20270102@dialside"] == noted
    assert stamps[f"{job.number}-cell-20240510@dialside"] == dt.datetime(2024, 5, 10, tzinfo=dt.UTC)


def test_awkward_words_are_read_back_as_they_were(job):
    job.case_family.name = "Größe; 36, “alt” \\ " + "lang " * 10 + "é"
    job.case_family.save()
    (summary,) = {event.summary.value for uid, event in read(calendar()).items() if "-cell-" in uid}
    assert summary == f"New cell due: {job.number} {job.case_family.name}"


def test_a_phone_reads_it_by_the_private_address_without_signing_in(job, owner_client, client):
    address = feed_of(owner_client)
    client.logout()
    answer = client.get(address)
    assert (answer.status_code, answer["Content-Type"]) == (200, "text/calendar; charset=utf-8")
    assert answer.content == calendar()
    assert client.get(address.replace("calendar/", "calendar/x")).status_code == 404
    assert client.get("/after/").status_code == 302
    assert client.post(address).status_code == 405


def test_the_address_is_kept_as_a_digest_renewed_and_ended(job, owner_client):
    first = feed_of(owner_client)
    token = first.split("/")[2]
    assert token not in CalendarAddress.objects.get().digest
    assert token not in owner_client.get(reverse("calendar")).text
    second = feed_of(owner_client, with_names="on")
    assert [owner_client.get(address).status_code for address in (first, second)] == [404, 200]
    assert b"Canary" in owner_client.get(second).content
    owner_client.post(reverse("calendar"), {"do": "end"})
    assert owner_client.get(second).status_code == 404


def test_only_the_owner_makes_an_address(hand, reader):
    assert [who.post(reverse("calendar"), {"do": "make"}).status_code for who in (hand, reader)] == [403, 403]
    assert not CalendarAddress.objects.exists()
