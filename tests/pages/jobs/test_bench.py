"""The bench and the one search."""

from datetime import timedelta

import pytest
from django.utils import timezone

from jobs import bench, go_ahead
from jobs.models import Job, Order, Photo, Stage
from jobs.options import choosing
from jobs.stages.work_time import start_timer
from tests.factories import CustomerFactory, JobFactory, PairingFactory, UserFactory
from tests.reading import as_read

pytestmark = pytest.mark.django_db


def test_each_open_job_stands_once_under_what_it_waits_for(owner_client):
    mine, parts = JobFactory(), JobFactory(waits_for="parts")
    JobFactory(state="finished")
    JobFactory(archived=True)
    response = owner_client.get("/")
    groups = {group.waits_for: [job for job, _ in lines] for group, lines in response.context["lines"]}
    assert groups == {"me": [mine], "parts": [parts], "customer": [], "nothing": []}
    assert response.text.count('class="bench-job"') == 2


def test_a_late_job_says_so_in_words(owner_client):
    for days in (-1, 0, 1, 12):
        JobFactory(promised=timezone.localdate() + timedelta(days=days))
    text = as_read(owner_client.get("/").text).partition("bench-groups")[2]
    places = [text.index(words) for words in ("1 day late", "due today", "1 day left", "12 days left")]
    assert places == sorted(places)
    assert text.count("late</strong>") == 1
    assert owner_client.get("/", {"late": "on"}).text.count('class="bench-job"') == 1


def test_filters_take_only_what_they_know(owner_client):
    JobFactory(stage="dial")
    assert "bench-job" in owner_client.get("/", {"stage": "dial"}).text
    assert 'class="bench-job"' not in owner_client.get("/", {"stage": "stem"}).text
    assert 'class="bench-job"' in owner_client.get("/", {"stage": "nonsense", "only": "x"}).text


def test_the_bench_takes_as_many_queries_for_many_jobs(owner_client, django_assert_max_num_queries):
    JobFactory.create_batch(40)
    with django_assert_max_num_queries(10 + len(Job.WaitsFor.values)):
        response = owner_client.get("/")
    assert "All 40" in response.text


def test_a_whole_number_opens_its_job_and_words_find_everything(owner_client):
    job = JobFactory(customer__name="Ottilie Reed")
    PairingFactory(movement__name="Wick date")
    assert owner_client.get("/search/", {"q": job.number}).url == job.get_absolute_url()
    assert "Wick date" in owner_client.get("/search/", {"q": "wick"}).text
    assert "Ottilie Reed" in owner_client.get("/search/", {"q": "reed ottilie"}, headers={"hx-request": "true"}).text
    assert "Nothing found for" in owner_client.get("/search/", {"q": "zzz\0"}).text


def test_closed_and_archived_jobs_are_found_again(owner_client):
    open_job, closed = JobFactory(), JobFactory(state="declined")
    away = JobFactory(state="finished", archived=True, customer__name="Ivo Castle")
    listed = {
        state: list(owner_client.get("/jobs/", {"state": state}).context["page"]) for state in ("", "declined", "x")
    }
    assert listed == {"": [away, closed, open_job], "declined": [closed], "x": [away, closed, open_job]}
    assert list(owner_client.get("/jobs/", {"state": "archived", "q": "castle"}).context["page"]) == [away]
    assert (
        f"{away.number} {away.title}, Ivo Castle, finished, archived"
        in owner_client.get("/search/", {"q": "castle"}).text
    )
    assert "No job matches" in owner_client.get("/jobs/", {"q": "zzz\0"}).text


def test_all_jobs_are_paged_and_keep_their_words(owner_client, django_assert_max_num_queries):
    JobFactory.create_batch(60, wish="quartz")
    with django_assert_max_num_queries(6):
        page = owner_client.get("/jobs/", {"q": "quartz", "page": "zz"})
    assert 'href="?q=quartz&amp;page=2"' in page.text
    assert len(owner_client.get("/jobs/", {"q": "quartz", "page": "2"}).context["page"]) == 10


def test_a_line_of_the_bench_names_its_stage_and_a_running_timer(owner_client, owner):
    job = JobFactory(customer__name="Ben Alder", stage="timing")
    text = as_read(owner_client.get("/").text)
    assert "Ben Alder · timing test" in text
    assert "timer running" not in text
    start_timer(stage=job.stages.get(kind="timing"), by=owner)
    assert "timer running" in as_read(owner_client.get("/").text)


def test_the_way_to_one_whole_group_keeps_the_filters_and_leads_back(owner_client):
    JobFactory.create_batch(30, stage="dial")
    assert 'href="?stage=dial&amp;only=me"' in owner_client.get("/", {"stage": "dial"}).text
    text = owner_client.get("/", {"stage": "dial", "only": "me"}).text
    assert text.count('class="bench-job"') == 30
    assert 'href="?stage=dial"' in text


def test_customers_are_found_by_phone_and_those_put_away_again(owner_client):
    CustomerFactory(name="Ben Alder", phone="555 0117")
    CustomerFactory(name="Thea Lund", archived=True)
    assert "Ben Alder" in owner_client.get("/customers/", {"q": "0117"}).text
    assert "Thea Lund" not in owner_client.get("/customers/").text
    assert "Thea Lund" in owner_client.get("/customers/", {"put-away": "on"}).text


def test_a_second_tab_does_not_overwrite_a_customer(owner_client):
    known = CustomerFactory(name="Ben Alder")
    url = f"/customers/{known.pk}/edit/"
    stamp = owner_client.get(url).context["form"].stamp
    owner_client.post(url, {"name": "Ben Alder", "phone": "555 0200", "stamp": stamp})
    response = owner_client.post(url, {"name": "Ben Alder", "phone": "555 0300", "stamp": stamp})
    assert response.status_code == 422
    assert "Someone changed this" in response.text
    assert "555 0300" in response.text
    known.refresh_from_db()
    assert known.phone == "555 0200"


def test_the_earliest_promise_stands_first_and_jobs_without_one_last(owner_client):
    today = timezone.localdate()
    none, late, soon = (
        JobFactory(promised=None),
        JobFactory(promised=today - timedelta(days=3)),
        JobFactory(promised=today + timedelta(days=2)),
    )
    ((group, lines),) = [(group, lines) for group, lines in owner_client.get("/").context["lines"] if lines]
    assert (group.waits_for, [job for job, _ in lines]) == ("me", [late, soon, none])


@pytest.mark.parametrize("stage", ["holder", "dial", "hands", "stem", "timing", "handover"])
def test_the_go_ahead_is_asked_for_before_the_teardown_only(owner, stage):
    job = JobFactory()
    choosing.choose(option=choosing.add_option(job=job, pairing=PairingFactory(), by=owner), by=owner)

    def hint():
        ((group, *_), *_) = [[group] for group in bench.groups() if group.jobs]
        return bench.next_action(group.jobs[0])

    before_teardown = hint()
    Job.objects.update(stage=stage)
    assert hint() != before_teardown
    assert Stage.Kind(stage).label in hint()
    Job.objects.update(stage="teardown")
    go_ahead.give(job=job, how="phone", said_by="Ms Reed", on=timezone.localdate(), note="", by=owner)
    assert Stage.Kind.TEARDOWN.label in hint()


def test_of_the_parts_that_are_due_the_earliest_is_named(owner):
    job = JobFactory(waits_for="parts", stage="holder")
    choosing.choose(option=choosing.add_option(job=job, pairing=PairingFactory(), by=owner), by=owner)
    today = timezone.localdate()
    Order.objects.create(job=job, text="Crown", expected=today + timedelta(days=9), state="ordered")
    Order.objects.create(job=job, text="Movement", expected=today + timedelta(days=2), state="ordered")
    Order.objects.create(job=job, text="Stem", expected=today, state="arrived")
    listed = next(group for group in bench.groups() if group.waits_for == "parts").jobs
    assert [bench.next_action(listed_job) for listed_job in listed] == ["Waiting for Movement"]


def test_an_archived_photo_does_not_stand_for_its_job():
    photo = Photo.objects.create(job=JobFactory(), file="photos/a.jpg", thumbnail="photos/b.jpg", by=UserFactory())
    assert [job.thumbnail for job in bench.groups()[0].jobs] == [photo.pk]
    Photo.objects.update(archived=True)
    assert [job.thumbnail for job in bench.groups()[0].jobs] == [None]


def test_the_job_that_is_longest_late_leads_and_has_the_one_primary_button(owner_client):
    today = timezone.localdate()
    JobFactory(promised=today)
    page = owner_client.get("/").text
    assert "bench-late" not in page
    assert page.count("button primary") == 1
    JobFactory(promised=today - timedelta(days=2))
    late = JobFactory(promised=today - timedelta(days=5), waits_for="customer", customer__phone="555 0101")
    JobFactory(promised=today - timedelta(days=9), state="finished")
    JobFactory(promised=today - timedelta(days=9), archived=True)
    lead = as_read(owner_client.get("/").text).partition("bench-late")[2].partition("</section>")[0]
    words = ("5 days late", "Choose the parts", late.number, "555 0101", "Waiting for the customer")
    assert [word for word in words if word not in lead] == []
    assert owner_client.get("/").text.count("button primary") == 1
    assert f'href="{late.get_absolute_url()}">Open {late.number}' in lead


def test_a_line_of_the_bench_shows_its_stages_and_the_verdict_of_the_chosen_option(owner_client, owner):
    job = JobFactory(stage="holder")
    job.stages.filter(kind="teardown").update(state="skipped")
    assert bench.groups()[0].jobs[0].strip == ["done", "skipped", "now", "ahead", "ahead", "ahead", "ahead", "ahead"]
    considered = choosing.add_option(job=job, pairing=PairingFactory(), by=owner)
    assert 'class="verdict' not in owner_client.get("/").text
    choosing.choose(option=considered, by=owner)
    text = owner_client.get("/").text
    assert f"verdict-{considered.pairing.report['verdict']}" in text
    assert text.partition('class="bench-stages"')[2].partition("bench-next")[0].count('class="ahead"') == 5


def test_a_watch_without_a_photo_has_a_dial_as_its_picture(owner_client):
    job = JobFactory()
    assert 'class="thumbnail no-photo"' in owner_client.get("/").text
    Photo.objects.create(job=job, file="photos/a.jpg", thumbnail="photos/b.jpg", by=UserFactory())
    assert 'class="thumbnail no-photo"' not in owner_client.get("/").text
