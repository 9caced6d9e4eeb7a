"""Timing runs: taps, typed readings, the verdict in words."""

from datetime import timedelta

import pytest
from django.urls import reverse
from django.utils import timezone

from jobs import options, timing
from jobs.models import Reading, TimingRun
from tests.factories import JobFactory, PairingFactory

pytestmark = pytest.mark.django_db


@pytest.fixture
def run(owner):
    job = JobFactory()
    options.choose(option=options.add_option(job=job, pairing=PairingFactory(), by=owner), by=owner)
    return timing.start_run(job=job, by=owner, bench_temperature=20.0)


def address(name, run, *more):
    return reverse(f"jobs:{name}", args=[run.job.number, run.pk, *more])


def test_a_run_begins_with_what_was_noted(bench):
    job = JobFactory()
    url = reverse("jobs:runs", args=[job.number])
    bench.post(url, {"bench_temperature": "21.5", "cell_voltage": "1.56", "note": "north window"})
    run = TimingRun.objects.get()
    assert (run.bench_temperature, run.cell_voltage, run.current_draw) == (21.5, 1.56, None)
    assert bench.post(url, {"cell_voltage": "400"}).status_code == 422


def test_a_tap_counts_from_the_full_minute_nearest_to_what_is_expected(bench, run):
    minute = timezone.now().replace(second=0, microsecond=0)
    for seconds in (59.7, 60.2):
        at = (minute - timedelta(hours=1)).timestamp() + seconds
        bench.post(address("tap", run), {"at": at, "plus_minus": "0.012"})
    assert [one.offset_s for one in run.readings.all()] == pytest.approx([0.3, -0.2])
    assert {one.plus_minus_s for one in run.readings.all()} == {0.012}


def test_a_slow_watch_is_followed_past_half_a_minute(bench, run):
    minute = timezone.now().replace(second=0, microsecond=0) - timedelta(hours=20)
    timing.add_reading(run=run, at=minute, offset_s=-24.0, how="typed")
    timing.add_reading(run=run, at=minute + timedelta(hours=6), offset_s=-30.0, how="typed")
    bench.post(address("tap", run), {"at": (minute + timedelta(hours=12)).timestamp() + 36.0, "plus_minus": "0.01"})
    assert run.readings.last().offset_s == pytest.approx(-36.0)


@pytest.mark.parametrize("data", [{}, {"at": "x", "plus_minus": "0"}, {"at": "inf", "plus_minus": "0"}])
def test_without_the_screens_time_the_arrival_counts_less_surely(bench, run, data):
    bench.post(address("tap", run), data)
    assert Reading.objects.get().plus_minus_s == 0.5


def test_a_clock_a_day_off_is_not_believed(bench, run):
    response = bench.post(address("tap", run), {"at": "1000", "plus_minus": "0.01"}, follow=True)
    assert "more than a day off" in response.text
    assert Reading.objects.count() == 0


def test_a_reading_is_typed_left_out_and_counted_again(bench, run):
    bench.post(address("type-in", run), {"offset_s": "-1.5"})
    one = Reading.objects.get()
    assert (one.offset_s, one.how) == (-1.5, "typed")
    assert bench.post(address("type-in", run), {"offset_s": "soon"}).status_code == 422
    ahead = (timezone.localtime() + timedelta(days=1)).strftime("%Y-%m-%dT%H:%M")
    assert "lies ahead" in bench.post(address("type-in", run), {"offset_s": "1", "at": ahead}).text
    bench.post(address("reading-take-back", run, one.pk))
    assert timing.outcome(TimingRun.objects.get()).points == []
    bench.post(address("reading-take-back", run, one.pk), {"do": "count"})
    assert timing.outcome(TimingRun.objects.get()).points == [(0.0, -1.5)]


@pytest.mark.parametrize(
    ("daily", "words"),
    [(0.1, "Within the movement's limits"), (3.0, "Outside the movement's limits"), (0.65, "Not decided yet")],
)
def test_the_verdict_is_told_in_words(bench, run, daily, words):
    start = timezone.now() - timedelta(days=3)
    for day in range(4):
        timing.add_reading(run=run, at=start + timedelta(days=day), offset_s=daily * day, how="tap")
    text = bench.get(address("run", run)).text
    assert words in text
    assert f"{daily:.2f} ±" in text
    assert "drawing-timing" in text
    assert "Carried to 30.0 °C at the wrist" in text


def test_the_clock_tells_the_machines_time(bench):
    assert bench.get(reverse("jobs:clock")).json()["now"] == pytest.approx(timezone.now().timestamp(), abs=2)
