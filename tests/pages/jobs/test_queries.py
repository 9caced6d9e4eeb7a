"""Pages ask the database a number of times that does not grow with what they show."""

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.urls import reverse
from django.utils import timezone

from jobs.models import Photo
from jobs.options import choosing
from jobs.quotes import versions
from jobs.timing import timing_runs
from tests.factories import JobFactory, PairingFactory

pytestmark = pytest.mark.django_db

MOST_OF_A_JOB = 35


def a_job(owner, *, options, runs, quotes, photos):
    """A job that is chosen, timed, quoted and photographed as often as asked."""
    job = JobFactory()
    for _ in range(options):
        option = choosing.add_option(job=job, pairing=PairingFactory(), by=owner)
    choosing.choose(option=option, by=owner)
    for _ in range(runs):
        run = timing_runs.start_run(job=job, by=owner, bench_temperature=20.0)
        timing_runs.add_reading(run=run, at=timezone.now(), offset_s=0.1, how="typed")
    for _ in range(quotes):
        versions.propose(job=job, options=[option], by=owner)
    for number in range(photos):
        Photo.objects.create(job=job, by=owner, stage="intake", file=f"{number}.jpg", thumbnail=f"{number}s.jpg")
    return job


def queries(client, url):
    assert client.get(url).status_code == 200  # what is read once in a process is read now
    with CaptureQueriesContext(connection) as asked:
        client.get(url)
    return len(asked)


def test_a_jobs_page_asks_no_more_with_many_options_runs_quotes_and_photos(owner_client, owner):
    small = a_job(owner, options=1, runs=1, quotes=1, photos=1)
    large = a_job(owner, options=4, runs=6, quotes=3, photos=20)
    asked = queries(owner_client, small.get_absolute_url())
    assert queries(owner_client, large.get_absolute_url()) == asked <= MOST_OF_A_JOB


@pytest.mark.parametrize("kind", ["teardown", "stem", "timing"])
def test_neither_does_a_stage(owner_client, owner, kind):
    small = a_job(owner, options=1, runs=1, quotes=1, photos=1)
    large = a_job(owner, options=4, runs=6, quotes=3, photos=20)
    asked = queries(owner_client, reverse("jobs:stage", args=[small.number, kind]))
    assert queries(owner_client, reverse("jobs:stage", args=[large.number, kind])) == asked <= MOST_OF_A_JOB


def test_neither_does_the_bench(owner_client, owner):
    a_job(owner, options=1, runs=1, quotes=1, photos=1)
    asked = queries(owner_client, "/")
    for _ in range(3):
        a_job(owner, options=2, runs=2, quotes=1, photos=3)
    assert queries(owner_client, "/") == asked <= 15
