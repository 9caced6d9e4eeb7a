"""The pages of looking after."""

import datetime as dt

import pytest
from django.urls import reverse
from django.utils import timezone

from jobs.models import FollowUp
from tests.factories import CustomerFactory, JobFactory
from tests.jobs.after.conftest import gone_home  # noqa: F401 - a fixture

pytestmark = pytest.mark.django_db
TODAY = timezone.localdate()


def url(name, job, *more):
    return reverse(f"jobs:{name}", args=[job.number, *more])


@pytest.fixture
def job(gone_home):  # noqa: F811
    """A watch whose cell is overdue."""
    return gone_home(TODAY - dt.timedelta(days=2000), customer=CustomerFactory(name="Zoë Marsh", language="fr"))


def test_an_empty_list_says_what_will_stand_there(hand):
    assert "Nothing to look after yet" in hand.get("/after/").text


def test_the_list_leads_to_job_and_customer_and_the_bench_to_the_list(hand, job):
    page = hand.get("/after/").text
    assert page.index("Overdue") < page.index(url("follow-up", job, "cell"))
    assert job.get_absolute_url() in page
    assert job.customer.get_absolute_url() in page
    bench = hand.get("/").text
    assert "1 overdue" in bench


def test_the_words_are_in_the_customers_language(hand, job):
    assert "La pile de votre montre" in hand.get(url("follow-up", job, "cell")).text


def test_asked_done_dropped_and_wanted_again(hand, job):
    address = url("follow-up", job, "cell")
    hand.post(address, {"do": "ask", "on": f"{TODAY}"})
    assert FollowUp.objects.get().asked_on == TODAY
    hand.post(address, {"do": "drop"})
    assert "Wanted again" in hand.get(address).text
    assert "overdue" not in hand.get("/").text
    hand.post(address, {"do": "want"})
    answer = hand.post(address, {"do": "done", "on": f"{TODAY}"}, follow=True)
    assert "Undo" in answer.text
    hand.post(reverse("jobs:follow-up-undo", args=[job.number, FollowUp.objects.get().pk]))
    assert FollowUp.objects.get().done_on is None
    history = hand.get(url("history", job)).text
    assert "Customer asked" in history
    assert "No longer wanted" in history


@pytest.mark.parametrize(
    ("day", "reason"),
    [
        (TODAY + dt.timedelta(days=1), "is in the future"),
        (TODAY - dt.timedelta(days=3000), "Enter a later day"),
        ("soon", "This is not a date"),
    ],
)
def test_a_day_that_cannot_be_is_refused_on_its_field(hand, job, day, reason):
    answer = hand.post(url("follow-up", job, "cell"), {"do": "done", "on": f"{day}"})
    assert (answer.status_code, reason in answer.text) == (422, True)
    assert not FollowUp.objects.exists()


def test_a_promise_is_noted_done_and_undone(hand):
    job = JobFactory()
    address = url("job-after", job)
    assert hand.post(address, {"begins": f"{TODAY}", "words": ""}).status_code == 422
    hand.post(address, {"begins": f"{TODAY}", "words": "Ask how it runs"})
    note = FollowUp.objects.get()
    assert "Ask how it runs" in hand.get(job.get_absolute_url()).text
    hand.post(url("follow-up", job, f"promise-{note.pk}"), {"do": "done", "on": f"{TODAY}"})
    assert "Ask how it runs" not in hand.get("/after/").text


def test_who_only_looks_sees_the_list_and_changes_nothing(reader, job):
    page = reader.get(url("follow-up", job, "cell")).text
    assert "What happened?" not in page
    assert reader.post(url("follow-up", job, "cell"), {"do": "done", "on": f"{TODAY}"}).status_code == 403
    assert not FollowUp.objects.exists()


def test_a_thing_that_is_not_there_is_not_found(hand, job):
    assert hand.get(url("follow-up", job, "promise-99")).status_code == 404


def test_a_customer_is_marked_as_wanting_no_letters(hand, job):
    customer = job.customer
    hand.post(
        reverse("jobs:customer-edit", args=[customer.pk]),
        {"name": customer.name, "phone": customer.phone, "no_letters": "on", "reach": "", "language": "fr"},
    )
    customer.refresh_from_db()
    assert customer.no_letters
    assert "no letters, please" in hand.get(customer.get_absolute_url()).text
