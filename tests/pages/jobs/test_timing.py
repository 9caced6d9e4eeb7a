"""Timing runs: taps, typed readings, the verdict in words."""

from datetime import timedelta

import pytest
from django.urls import reverse
from django.utils import timezone

from jobs.history_words import in_words
from jobs.models import Reading, Shop, TimingRun
from jobs.options import choosing
from jobs.timing import timing_runs
from tests.factories import JobFactory, PairingFactory

pytestmark = pytest.mark.django_db


@pytest.fixture
def run(owner):
    job = JobFactory()
    choosing.choose(option=choosing.add_option(job=job, pairing=PairingFactory(), by=owner), by=owner)
    return timing_runs.start_run(job=job, by=owner, bench_temperature=20.0)


def address(name, run, *more):
    return reverse(f"jobs:{name}", args=[run.job.number, run.pk, *more])


def test_a_run_begins_with_what_was_noted(owner_client):
    job = JobFactory()
    url = reverse("jobs:runs", args=[job.number])
    owner_client.post(url, {"bench_temperature": "21.5", "cell_voltage": "1.56", "note": "north window"})
    run = TimingRun.objects.get()
    assert (run.bench_temperature, run.cell_voltage, run.current_draw) == (21.5, 1.56, None)
    assert owner_client.post(url, {"cell_voltage": "400"}).status_code == 422


def test_a_tap_counts_from_the_full_minute_nearest_to_what_is_expected(owner_client, run):
    minute = timezone.now().replace(second=0, microsecond=0)
    for seconds in (59.7, 60.2):
        at = (minute - timedelta(hours=1)).timestamp() + seconds
        owner_client.post(address("tap", run), {"at": at, "plus_minus": "0.012"})
    assert [one.offset_s for one in run.readings.all()] == pytest.approx([0.3, -0.2])
    assert {one.plus_minus_s for one in run.readings.all()} == {0.012}


def test_a_slow_watch_is_followed_past_half_a_minute(owner_client, run):
    minute = timezone.now().replace(second=0, microsecond=0) - timedelta(hours=20)
    timing_runs.add_reading(run=run, at=minute, offset_s=-24.0, how="typed")
    timing_runs.add_reading(run=run, at=minute + timedelta(hours=6), offset_s=-30.0, how="typed")
    owner_client.post(
        address("tap", run), {"at": (minute + timedelta(hours=12)).timestamp() + 36.0, "plus_minus": "0.01"}
    )
    assert run.readings.last().offset_s == pytest.approx(-36.0)


@pytest.mark.parametrize("data", [{}, {"at": "x", "plus_minus": "0"}, {"at": "inf", "plus_minus": "0"}])
def test_without_the_screens_time_the_arrival_counts_less_surely(owner_client, run, data):
    owner_client.post(address("tap", run), data)
    assert Reading.objects.get().plus_minus_s == 0.5


@pytest.mark.parametrize("hours", [-240, -25, -24.1, 24.1, 25, 240])
def test_a_clock_a_day_off_is_not_believed(owner_client, run, hours):
    at = (timezone.now() + timedelta(hours=hours)).timestamp()
    response = owner_client.post(address("tap", run), {"at": at, "plus_minus": "0.01"}, follow=True)
    assert "more than a day off" in response.text
    assert Reading.objects.count() == 0


@pytest.mark.parametrize("hours", [-23.9, 23.9])
def test_a_clock_less_than_a_day_off_is_the_tablets_own(owner_client, run, hours):
    at = (timezone.now() + timedelta(hours=hours)).timestamp()
    owner_client.post(address("tap", run), {"at": at, "plus_minus": "0.01"})
    assert (Reading.objects.get().at.timestamp(), Reading.objects.get().plus_minus_s) == (pytest.approx(at), 0.01)


def test_a_reading_is_typed_left_out_and_counted_again(owner_client, run):
    owner_client.post(address("type-in", run), {"offset_s": "-1.5"})
    one = Reading.objects.get()
    assert (one.offset_s, one.how) == (-1.5, "typed")
    assert owner_client.post(address("type-in", run), {"offset_s": "soon"}).status_code == 422
    ahead = (timezone.localtime() + timedelta(days=1)).strftime("%Y-%m-%dT%H:%M")
    assert "is in the future" in owner_client.post(address("type-in", run), {"offset_s": "1", "at": ahead}).text
    owner_client.post(address("reading-take-back", run, one.pk))
    assert timing_runs.outcome(TimingRun.objects.get()).points == []
    owner_client.post(address("reading-take-back", run, one.pk), {"do": "count"})
    assert timing_runs.outcome(TimingRun.objects.get()).points == [(0.0, -1.5)]


@pytest.mark.parametrize(
    ("daily", "words"),
    [(0.1, "Within the movement's limits"), (3.0, "Outside the movement's limits"), (0.65, "Not settled yet")],
)
def test_the_verdict_is_told_in_words(owner_client, run, daily, words):
    start = timezone.now() - timedelta(days=3)
    for day in range(4):
        timing_runs.add_reading(run=run, at=start + timedelta(days=day), offset_s=daily * day, how="tap")
    text = owner_client.get(address("run", run)).text
    assert words in text
    assert f"{daily:.2f} ±" in text
    assert "drawing-timing" in text
    assert "At the wrist (30.0 °C)" in text


def test_the_clock_tells_the_machines_time(owner_client):
    assert owner_client.get(reverse("jobs:clock")).json()["now"] == pytest.approx(timezone.now().timestamp(), abs=2)


@pytest.mark.parametrize("plus_minus", ["nan", "-5", "inf"])
def test_a_tap_whose_clock_says_no_number_counts_as_it_arrived(owner_client, run, plus_minus):
    owner_client.post(address("tap", run), {"at": timezone.now().timestamp(), "plus_minus": plus_minus})
    assert Reading.objects.get().plus_minus_s == 0.5


@pytest.mark.parametrize(
    ("data", "words"),
    [
        ({"offset_s": "90000"}, "90000 s is out of range: it must be between -43200 and 43200 s"),
        ({"offset_s": "nan"}, "not a number"),
        ({"offset_s": "1", "at": "1900-01-01T00:00"}, "more than 400 days back"),
    ],
)
def test_a_slip_in_a_typed_reading_is_told_with_its_limit(owner_client, run, data, words):
    response = owner_client.post(address("type-in", run), data)
    assert response.status_code == 422
    assert words in response.text.replace("&#x27;", "'")
    assert Reading.objects.count() == 0


def test_a_comma_is_as_good_as_a_point(owner_client, run):
    owner_client.post(address("type-in", run), {"offset_s": "-0,4"})
    assert Reading.objects.get().offset_s == -0.4


def test_a_run_as_found_is_held_to_no_limits_of_the_new_movement(owner_client, run):
    TimingRun.objects.update(as_found=True, bench_temperature=20.0)
    for day in range(3):
        timing_runs.add_reading(run=run, at=timezone.now() - timedelta(days=3 - day), offset_s=20.0 * day, how="typed")
    text = owner_client.get(address("run", run)).text
    assert "for comparison only" in text
    assert "movement's limits" not in text
    assert "at the wrist" not in text.casefold()


def test_a_clock_that_is_not_well_known_widens_the_rate(run):
    start = timezone.now() - timedelta(days=2)
    for day in range(2):
        timing_runs.add_reading(run=run, at=start + timedelta(days=day), offset_s=0.0, how="tap")
    sure = timing_runs.outcome(TimingRun.objects.get()).fit.half_width
    run.readings.update(plus_minus_s=0.5)
    assert timing_runs.outcome(TimingRun.objects.get()).fit.half_width > 1.5 * sure


def test_what_is_noted_is_changed_later_with_a_trail(owner_client, run):
    owner_client.post(address("run-change", run), {"bench_temperature": "20,5", "cell_voltage": "1.55"})
    run.refresh_from_db()
    assert (run.bench_temperature, run.cell_voltage) == (20.5, 1.55)
    told = in_words(run.job.events.get(data__field="cell_voltage"))
    assert told == (f"Run of {timezone.localdate():%-d %b %Y}: Cell voltage", "nothing", "1.55")


def test_a_run_put_away_counts_no_more_and_comes_back(owner_client, run):
    for day in range(4):
        timing_runs.add_reading(run=run, at=timezone.now() - timedelta(days=4 - day), offset_s=0.1 * day, how="tap")
    assert timing_runs.last_verdict(run.job).word == "within"
    owner_client.post(address("run-put-away", run))
    assert timing_runs.last_verdict(run.job) is None
    owner_client.post(address("run-put-away", run), {"do": "bring-back"})
    assert timing_runs.last_verdict(run.job).word == "within"
    assert [event.kind for event in run.job.events.all()[:2]] == ["run-back", "run-archived"]


def test_leaving_a_reading_out_is_in_the_history(owner_client, run):
    timing_runs.add_reading(run=run, at=timezone.now(), offset_s=1.5, how="typed")
    owner_client.post(address("reading-take-back", run, Reading.objects.get().pk))
    told = in_words(run.job.events.first())
    assert told.what == "Reading left out"
    assert told.after.startswith("+1.50 s")


def test_the_shops_own_uncertainty_of_a_tap_and_wrist_count(run):
    start = timezone.now() - timedelta(days=2)
    for day in range(3):
        timing_runs.add_reading(run=run, at=start + timedelta(days=day), offset_s=0.1 * day, how="typed")
    before = timing_runs.outcome(run, **timing_runs.terms_of(run.job))
    Shop.objects.create(tap_s=0.4, wrist_c=25.0)
    fresh = TimingRun.objects.get(pk=run.pk)
    after = timing_runs.outcome(fresh, **timing_runs.terms_of(run.job))
    assert after.fit.half_width == pytest.approx(2 * before.fit.half_width)
    assert after.at_wrist == pytest.approx(0.1 + 0.0864 * 0.034 * 25, abs=1e-6)


def test_the_chosen_movements_own_crystal_carries_its_rate_to_the_wrist(run):
    movement = choosing.chosen_option(run.job).pairing.movement
    movement.crystal_coefficient, movement.crystal_turnover = -0.04, 22.0
    movement.save()
    start = timezone.now() - timedelta(days=2)
    for day in (0, 1):
        timing_runs.add_reading(run=run, at=start + timedelta(days=day), offset_s=0.1 * day, how="typed")
    terms = timing_runs.terms_of(run.job)
    carried = timing_runs.outcome(run, **terms)
    shift = -0.04 * ((terms["wrist_c"] - 22.0) ** 2 - (20.0 - 22.0) ** 2)
    assert carried.at_wrist == pytest.approx(0.1 + 0.0864 * shift, abs=1e-6)
    assert carried.at_wrist != timing_runs.outcome(run, wrist_c=terms["wrist_c"]).at_wrist
