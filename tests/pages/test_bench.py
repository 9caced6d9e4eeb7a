"""The bench and the one search."""

from datetime import timedelta

import pytest
from django.utils import timezone

from tests.factories import JobFactory, PairingFactory

pytestmark = pytest.mark.django_db


def test_each_open_job_stands_once_under_what_it_waits_for(bench):
    mine, parts = JobFactory(), JobFactory(waits_for="parts")
    JobFactory(state="finished")
    JobFactory(archived=True)
    response = bench.get("/")
    groups = {group.waits_for: [job for job, _ in lines] for group, lines in response.context["lines"]}
    assert groups == {"me": [mine], "parts": [parts], "customer": [], "nothing": []}
    assert response.text.count('class="bench-job"') == 2


def test_a_late_job_says_so_in_words(bench):
    JobFactory(promised=timezone.localdate() - timedelta(days=1))
    JobFactory(promised=timezone.localdate())
    text = bench.get("/").text
    assert text.count("late: ") == 1
    assert bench.get("/", {"late": "on"}).text.count('class="bench-job"') == 1


def test_filters_take_only_what_they_know(bench):
    JobFactory(stage="dial")
    assert "bench-job" in bench.get("/", {"stage": "dial"}).text
    assert 'class="bench-job"' not in bench.get("/", {"stage": "stem"}).text
    assert 'class="bench-job"' in bench.get("/", {"stage": "nonsense", "only": "x"}).text


def test_the_bench_takes_as_many_queries_for_many_jobs(bench, django_assert_max_num_queries):
    JobFactory.create_batch(40)
    with django_assert_max_num_queries(8):
        response = bench.get("/")
    assert "All 40" in response.text


def test_a_whole_number_opens_its_job_and_words_find_everything(bench):
    job = JobFactory(customer__name="Ottilie Reed")
    PairingFactory(movement__name="Wick date")
    assert bench.get("/search/", {"q": job.number}).url == job.get_absolute_url()
    assert "Wick date" in bench.get("/search/", {"q": "wick"}).text
    assert "Ottilie Reed" in bench.get("/search/", {"q": "reed ottilie"}, headers={"hx-request": "true"}).text
    assert "Nothing holds" in bench.get("/search/", {"q": "zzz\0"}).text
