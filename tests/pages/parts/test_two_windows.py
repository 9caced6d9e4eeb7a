"""Two windows on one thing: the second to save is shown both versions, and loses nothing."""

import re
from concurrent.futures import ThreadPoolExecutor
from html import unescape
from threading import Barrier

import pytest
from django.db import connection
from django.test import Client
from django.urls import reverse

from jobs.models import Job, Order, Shop, Stage, TimingRun
from jobs.options import choosing
from parts.demo import fill_workshop
from parts.models import HolderDesign
from parts.rules.shop import shop_rules
from tests.conftest import signed_in
from tests.factories import CustomerFactory, HandSetFactory, JobFactory, PairingFactory, StemFactory, UserFactory
from tests.pages.jobs.test_shop import filled

pytestmark = pytest.mark.django_db

FIELD = re.compile(r"<(input|select|textarea)\b([^>]*)>(?:(.*?)</\1>)?", re.DOTALL)


def form_of(page, action=""):
    """What a browser would send for the form that has the field `seen` (and this action, if named)."""
    for form in re.findall(r"<form\b.*?</form>", page.text, re.DOTALL):
        if re.search(r'name="stamp"', form) and action in form.split(">", 1)[0]:
            return dict(_fields(form))
    raise AssertionError("no form here tells what its window has seen")


def _fields(form):
    for tag, attributes, inside in FIELD.findall(re.sub(r"(<input\b[^>]*>)", r"\1</input>", form)):
        name = re.search(r'\bname="([^"]*)"', attributes)
        if not name or ("checkbox" in attributes and "checked" not in attributes) or 'type="file"' in attributes:
            continue
        value = re.search(r'\bvalue="([^"]*)"', attributes)
        value = value[1] if value else "on" if "checkbox" in attributes else ""
        if tag == "select":
            value = next(iter(re.findall(r'value="([^"]*)"[^>]*\bselected', inside)), "")
        yield name[1], unescape(inside.removeprefix("\n") if tag == "textarea" else value)


def race(owner_client, url, first, second, told, *, action="", to=""):
    """Open two windows, save the first, then the second; returns what the second is shown."""
    one, two = (form_of(owner_client.get(url), action) for _ in range(2))
    to = to or url
    assert owner_client.post(to, one | first).status_code == 302
    refused = owner_client.post(to, two | second)
    text = unescape(refused.text)
    assert refused.status_code == 422
    assert "Someone changed this" in text
    assert [words for words in told if f"Saved now: {words}" not in text] == []
    assert len(re.findall("Saved now: ", text)) >= len(told)
    again = form_of(refused, action)
    assert {name: again[name] for name in second} == second
    assert owner_client.post(to, again).status_code == 302
    return text


def test_a_customer(owner_client):
    known = CustomerFactory(name="Ben Alder", phone="555 0100", reach="phone")
    url = reverse("jobs:customer-edit", args=[known.pk])
    second = {"phone": "555 0300", "notes": "rings late"}
    text = race(owner_client, url, {"phone": "555 0200", "reach": "post"}, second, ["555 0200", "post", "nothing"])
    assert "Saved now: Ben Alder" not in text
    known.refresh_from_db()
    assert (known.phone, known.notes, known.reach) == ("555 0300", "rings late", "phone")


def test_a_job(owner_client):
    job = JobFactory(wish="A date.")
    race(owner_client, reverse("jobs:edit", args=[job.number]), {"keep": "dial"}, {"keep": "hands"}, ["dial"])
    assert Job.objects.get().keep == "hands"


def test_a_stages_remarks(owner_client):
    job = JobFactory()
    url = reverse("jobs:stage", args=[job.number, "dial"])
    to = reverse("jobs:remarks", args=[job.number, "dial"])
    race(owner_client, url, {"remarks": "one"}, {"remarks": "two"}, ["one"], action=to, to=to)
    assert Stage.objects.get(job=job, kind="dial").remarks == "two"


def test_an_order(owner_client):
    job = JobFactory()
    order = Order.objects.create(job=job, text="crown")
    url = reverse("jobs:order", args=[job.number, order.pk])
    race(owner_client, url, {"supplier": "Mill"}, {"supplier": "Quay"}, ["Mill"])


def test_a_part(owner_client):
    stem = StemFactory(name="long", length=20.0)
    url = f"/parts/stems/{stem.pk}/edit/"
    race(owner_client, url, {"length": "19.5"}, {"length": "18.2"}, ["19.50"])
    stem.refresh_from_db()
    assert stem.length == 18.2


def test_the_hands_of_a_set(owner_client):
    hands = HandSetFactory()
    race(owner_client, f"/parts/hand-sets/{hands.pk}/edit/", {"hour-length": "7.90"}, {"hour-length": "8.10"}, ["7.90"])


def test_a_pairing_with_its_parts_and_numbers_to_try(owner_client):
    pairing, other = PairingFactory(name="Grey one"), StemFactory(name="short stem")
    url = reverse("parts:pairing", args=[pairing.pk])
    first = {"do": "save", "stem": str(other.pk), "name": "First", "what-if:case.bore_diameter": "26.30"}
    second = {"name": "Second"}
    one, two = (form_of(owner_client.get(url)) for _ in range(2))
    assert owner_client.post(url, one | first).status_code == 302
    text = unescape(owner_client.post(url, two | second | {"do": "save"}).text)
    for words in ("First", "short stem"):
        assert f"Saved now: {words}" in text
    assert "What if, case, bore diameter: saved now 26.30" in text
    assert 'value="Second"' in text


def test_the_shop(owner_client):
    Shop.objects.create(name="Mill Bench")
    race(owner_client, reverse("jobs:shop"), filled(name="Mill"), filled(name="Quay", paper="letter"), ["Mill", "A4"])
    assert (Shop.objects.get().name, Shop.objects.get().paper) == ("Quay", "letter")


def test_the_bench_rules(owner_client):
    race(owner_client, reverse("jobs:rules"), {"back_gap_min": "0.2"}, {"back_gap_min": "0.25"}, ["0.2"])
    assert shop_rules() == {"back_gap_min": 0.25}


def test_what_is_noted_of_a_timing_run(owner_client, owner):
    job = JobFactory()
    run = TimingRun.objects.create(job=job, by=owner)
    url = reverse("jobs:run-change", args=[job.number, run.pk])
    race(owner_client, url, {"note": "on the sill"}, {"note": "in the drawer", "as_found": "on"}, ["on the sill", "no"])


def test_how_a_holder_turned_out(owner_client):
    fill_workshop()
    design = HolderDesign.objects.first()
    url, to = reverse("parts:holder", args=[design.pk]), reverse("parts:holder-result", args=[design.pk])
    race(
        owner_client, url, {"result": "tight"}, {"result": "loose", "notes": "0.1 off"}, ["too tight"], action=to, to=to
    )
    design.refresh_from_db()
    assert (design.result, design.notes) == ("loose", "0.1 off")


def test_an_accounts_role(owner_client):
    person = UserFactory(is_staff=True)
    url = reverse("person", args=[person.pk])
    one, two = (form_of(owner_client.get(url)) for _ in range(2))
    assert owner_client.post(url, one | {"role": "READER"}).status_code == 302
    refused = owner_client.post(url, two | {"role": "OWNER"})
    assert refused.status_code == 422
    assert "Saved now: viewer" in refused.text
    person.refresh_from_db()
    assert not person.is_superuser


def test_the_same_change_in_both_windows_is_told_once_and_names_no_difference(owner_client):
    known = CustomerFactory(phone="1")
    url = reverse("jobs:customer-edit", args=[known.pk])
    one, two = (form_of(owner_client.get(url)) for _ in range(2))
    owner_client.post(url, one | {"phone": "2"})
    text = owner_client.post(url, two | {"phone": "2"}).text
    assert "Someone changed this" in text
    assert "Saved now" not in text


def test_a_page_that_does_not_say_what_it_saw_is_taken_for_up_to_date(owner_client):
    known = CustomerFactory()
    url = reverse("jobs:customer-edit", args=[known.pk])
    assert owner_client.post(url, {"name": "Other"}).status_code == 302


@pytest.mark.django_db(transaction=True)
@pytest.mark.parametrize("_round", range(5))
def test_of_two_windows_sent_in_the_same_instant_one_is_saved_and_the_other_told(owner, _round):
    job = JobFactory(keep="")
    url, start = reverse("jobs:edit", args=[job.number]), Barrier(2)
    windows = [signed_in(Client(), owner) for _ in range(2)]
    typed = [form_of(window.get(url)) | {"keep": text} for window, text in zip(windows, ("dial", "hands"), strict=True)]

    def send(place):
        start.wait()
        try:
            return windows[place].post(url, typed[place]).status_code
        finally:
            connection.close()

    with ThreadPoolExecutor(2) as pool:
        answers = list(pool.map(send, range(2)))
    assert sorted(answers) == [302, 422]
    assert Job.objects.get().keep == typed[answers.index(302)]["keep"]


@pytest.mark.django_db(transaction=True)
@pytest.mark.parametrize(
    ("second", "answers", "saved"),
    [
        ({"case.bore_diameter": "26.31"}, [302, 302], {(4.21, 26.31)}),
        ({"case.back_depth": "4.31"}, [302, 422], {(4.21, 26.2), (4.31, 26.2)}),
    ],
)
def test_measurements_sent_in_the_same_instant_lose_nothing(owner, second, answers, saved):
    job = JobFactory()
    choosing.choose(option=choosing.add_option(job=job, pairing=PairingFactory(), by=owner), by=owner)
    start, url = Barrier(2), reverse("jobs:measurements", args=[job.number, "teardown"])
    windows = [signed_in(Client(), owner) for _ in range(2)]
    page = windows[0].get(reverse("jobs:stage", args=[job.number, "teardown"]))
    stood = {f"{asked.path}-stood": asked.stored for asked in page.context["asked"]}
    typed = [stood | {"case.back_depth": "4.21"}, stood | second]

    def send(place):
        start.wait()
        try:
            return windows[place].post(url, typed[place]).status_code
        finally:
            connection.close()

    with ThreadPoolExecutor(2) as pool:
        assert sorted(pool.map(send, range(2))) == answers
    case = choosing.chosen_option(job).pairing.case
    assert (case.back_depth, case.bore_diameter) in saved
    assert len(Stage.objects.get(job=job, kind="teardown").measured) == answers.count(302)
