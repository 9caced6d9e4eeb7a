"""Timing runs: taps, typed readings, the verdict in words."""

from concurrent.futures import ThreadPoolExecutor
from datetime import timedelta
from threading import Barrier
from time import sleep

import pytest
from django.db import connection
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
    for hours, seconds in ((2, 59.7), (1, 60.2)):
        at = (minute - timedelta(hours=hours)).timestamp() + seconds
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


def test_a_watch_without_a_seconds_hand_is_tapped_by_its_minute_hand(owner_client, run):
    assert "Tap when the seconds hand crosses 12" in owner_client.get(address("run", run)).text
    hands = choosing.chosen_option(run.job).pairing.hands
    hands.hands.filter(role="seconds").delete()
    runs = reverse("jobs:runs", args=[run.job.number])
    text = owner_client.get(address("run", run)).text
    assert "Tap when the minute hand comes onto a minute mark" in text
    assert "seconds hand" not in text
    assert "seconds hand" not in owner_client.get(runs).text
    as_found = timing_runs.start_run(job=run.job, by=run.by, as_found=True)
    assert "Tap when the seconds hand crosses 12" in owner_client.get(address("run", as_found)).text


def test_without_limits_the_movement_is_named_or_an_option_asked_for(owner_client, run):
    movement = choosing.chosen_option(run.job).pairing.movement
    type(movement).objects.filter(pk=movement.pk).update(rate_low_s_per_day=None, rate_high_s_per_day=None)
    read(run, (72.0, 0.0), (48.0, 0.1), (24.0, 0.2), (0.0, 0.3))
    text = owner_client.get(address("run", run)).text
    assert "No rate limits known: none are entered for" in text
    assert reverse("parts:detail", args=["movements", movement.pk]) in text
    assert "hoose an option" not in text
    run.job.options.all().update(chosen=False)
    assert "choose an option</a> first" in owner_client.get(address("run", run)).text


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


def tap_at(client, run, at, **headers):
    return client.post(address("tap", run), {"at": at, "plus_minus": "0.01"}, **headers)


@pytest.mark.parametrize(
    ("apart", "count"), [(0.0, 1), (0.3, 1), (19.9, 1), (20.0, 2), (21.0, 2), (-19.9, 1), (-20.0, 2)]
)
def test_taps_less_than_twenty_seconds_apart_are_one_tap(owner_client, run, apart, count):
    first = float(int(timezone.now().timestamp()) - 3600)
    tap_at(owner_client, run, first)
    text = tap_at(owner_client, run, first + apart, follow=True).text
    assert Reading.objects.count() == count
    assert ("Not added: this tap came" in text) == (count == 1)
    assert Reading.objects.order_by("pk").first().at.timestamp() == pytest.approx(first)


def test_a_second_tap_is_answered_with_the_first_in_the_page_itself(owner_client, run):
    first = timezone.now().replace(microsecond=0, second=0) - timedelta(hours=1, seconds=2)
    headers = {"headers": {"HX-Request": "true"}}
    assert "Tap saved: " in tap_at(owner_client, run, first.timestamp(), **headers).text
    text = tap_at(owner_client, run, first.timestamp() + 3.2, **headers).text
    assert "this tap came 3.2 s from another" in text
    assert f"The first one counts: {timezone.localtime(first):%H:%M:%S}, watch 2.00 s ahead." in text
    assert 'hx-swap-oob="true"' in text


def test_after_a_tap_is_left_out_the_next_one_counts(owner_client, run):
    first = timezone.now().timestamp() - 3600
    tap_at(owner_client, run, first)
    owner_client.post(address("reading-take-back", run, Reading.objects.get().pk))
    tap_at(owner_client, run, first + 5)
    assert Reading.objects.filter(undone=False).count() == 1
    assert Reading.objects.count() == 2


def test_a_typed_reading_stands_in_no_taps_way(owner_client, run):
    timing_runs.add_reading(run=run, at=timezone.now(), offset_s=0.0, how="typed")
    tap_at(owner_client, run, timezone.now().timestamp())
    assert Reading.objects.count() == 2


def test_a_tap_refused_for_its_clock_says_so_in_the_page_itself(owner_client, run):
    text = tap_at(owner_client, run, timezone.now().timestamp() - 90_000, headers={"HX-Request": "true"}).text
    assert "more than a day off" in text


def with_limits(run, low=-0.5, high=0.5, **facts):
    movement = choosing.chosen_option(run.job).pairing.movement
    for name, value in {"rate_low_s_per_day": low, "rate_high_s_per_day": high, **facts}.items():
        setattr(movement, name, value)
    movement.save()


def read(run, *rows, how="tap", plus_minus_s=0.0):
    """Readings of (hours ago, offset in s)."""
    for hours, offset in rows:
        at = timezone.now() - timedelta(hours=hours)
        timing_runs.add_reading(run=run, at=at, offset_s=offset, how=how, plus_minus_s=plus_minus_s)


def page_of(client, run):
    return " ".join(client.get(address("run", run)).text.replace("&nbsp;", " ").replace("\xa0", " ").split())


def test_a_rate_that_is_not_known_yet_is_not_told(owner_client, run):
    """Two taps ten minutes apart: ±80 s/day, where ±5 tell something of limits of ±0.5."""
    with_limits(run)
    read(run, (0.5, 0.0), (0.33, 0.3))
    text = page_of(owner_client, run)
    assert "No rate yet" in text
    assert "tap again after <output>" in text
    assert "once it is known to ±5 s/day (95 %)" in text
    for words in ("s/month", "the movement's limits</b>", "drawing-timing", "At the wrist"):
        assert words not in text
    assert timing_runs.last_verdict(run.job).word == "early"


def test_after_the_first_tap_it_is_said_when_to_tap_again(owner_client, run):
    with_limits(run, -1.5, 1.5)
    read(run, (0.0, 0.0))
    text = page_of(owner_client, run)
    assert "tap again after <output>55 min</output>" in text
    assert "In about 9 h it is decided whether a rate near the middle of the limits is within them." in text


def test_once_the_time_has_come_it_is_said_to_tap_now(owner_client, run):
    with_limits(run)
    read(run, (5.0, 0.0))
    assert "<b>tap again now</b>." in page_of(owner_client, run)


def test_an_undecided_rate_says_how_long_still(owner_client, run):
    with_limits(run)
    read(run, (20.0, 0.0), (0.0, 0.25))
    text = page_of(owner_client, run)
    assert "<b>In about <output>45 h</output> it is decided</b>" in text
    assert "if the rate stays as it is: one more reading then is enough" in text


def test_the_half_width_says_that_it_is_of_95_percent(owner_client, run):
    read(run, (48.0, 0.0), (0.0, 0.2))
    text = page_of(owner_client, run)
    assert "0.10 ±0.28 s/day</output> (95 %)" in text
    assert "rate +0.10 ±0.28 s/day (95 %)" in text
    assert "Watch ahead, ± (95 %)" in text
    assert "0.20 ±0.39 s" in text


def test_each_reading_counts_by_its_own_uncertainty(owner_client, run):
    rows = [(96.0, 0.0), (72.0, 0.1), (48.0, 0.2), (24.0, 0.3), (0.0, 0.4)]
    read(run, *rows)
    sure = timing_runs.outcome(TimingRun.objects.get()).fit
    read(run, (12.0, 3.0), how="typed", plus_minus_s=5.0)
    outcome = timing_runs.outcome(TimingRun.objects.get())
    assert outcome.errors == pytest.approx([0.2] * 4 + [5 / 3**0.5, 0.2])
    assert outcome.fit.half_width <= sure.half_width
    assert outcome.fit.rate == pytest.approx(sure.rate, abs=0.01)


@pytest.mark.parametrize(
    ("how", "plus_minus", "error"),
    [("tap", 0.0, 0.2), ("tap", 0.5, 0.351), ("typed", 0.0, 0.2), ("typed", 0.5, 0.289), ("typed", 0.1, 0.0577)],
)
def test_the_uncertainty_of_a_reading(run, how, plus_minus, error):
    read(run, (0.0, 0.0), how=how, plus_minus_s=plus_minus)
    assert timing_runs.standard_error(Reading.objects.get()) == pytest.approx(error, abs=1e-3)


def test_a_typed_reading_may_have_its_own_plus_minus(owner_client, run):
    owner_client.post(address("type-in", run), {"offset_s": "1.5", "plus_minus_s": "0,5"})
    assert Reading.objects.get().plus_minus_s == 0.5
    refused = owner_client.post(address("type-in", run), {"offset_s": "1.5", "plus_minus_s": "0"})
    assert refused.status_code == 422
    assert "must be between 0.01 and 600 s" in refused.text


def test_a_reading_off_the_line_is_marked_counts_and_can_be_left_out(owner_client, run):
    read(run, (96.0, 0.1), (72.0, 0.0), (60.0, 2.9), (48.0, 0.1), (24.0, 0.0))
    text = page_of(owner_client, run)
    assert text.count("is off the line</b> of the others by 2.85 s") == 1
    assert "reading-off" in text
    assert "1 off the line" in text
    assert timing_runs.outcome(run).fit.count == 5
    reading = Reading.objects.get(offset_s=2.9)
    owner_client.post(address("reading-take-back", run, reading.pk))
    assert "off the line" not in page_of(owner_client, run)
    owner_client.post(address("reading-take-back", run, reading.pk), {"do": "count"})
    assert "is off the line" in page_of(owner_client, run)


def test_the_verdict_is_held_at_the_wrist_where_the_bench_temperature_is_noted(owner_client, run):
    """0.62 s/day at 25 °C are 0.55 at the wrist's 30 °C: -0.034 ppm/°C² (5 °C)² are -0.073 s/day."""
    with_limits(run, -0.6, 0.6)
    TimingRun.objects.update(bench_temperature=25.0)
    read(run, (2400.0, 0.0), (0.0, 62.0))
    assert timing_runs.last_verdict(run.job).word == "within"
    text = page_of(owner_client, run)
    assert "0.62 ±0.01 s/day</output> (95 %) on the bench, 25.0 °C" in text
    assert "<output>0.55 ±0.01 s/day</output> (95 %), by the crystal's parabola" in text
    assert "Within the movement's limits</b> at the wrist, 30.0 °C." in text
    TimingRun.objects.update(bench_temperature=None)
    assert timing_runs.last_verdict(run.job).word == "outside"
    text = page_of(owner_client, run)
    assert "Outside the movement's limits</b> at the bench's temperature, which is not measured." in text


def test_a_mechanical_movement_has_no_crystal(owner_client, run):
    with_limits(run, -10, 10, kind="mechanical")
    TimingRun.objects.update(bench_temperature=25.0)
    read(run, (48.0, 0.0), (0.0, 4.0))
    outcome = timing_runs.outcome(TimingRun.objects.get(), **timing_runs.terms_of(run.job))
    assert (outcome.at_wrist, outcome.verdict.word) == (None, "within")
    assert "limits</b> on the bench, 25.0 °C." in page_of(owner_client, run)


def test_the_list_of_runs_says_the_same(owner_client, run):
    with_limits(run)
    read(run, (0.5, 0.0), (0.33, 0.3))
    text = owner_client.get(reverse("jobs:runs", args=[run.job.number])).text
    assert "No rate yet" in text
    assert "s/month" not in text


def test_the_clock_tells_its_zone(owner_client):
    zone = owner_client.get(reverse("jobs:clock")).json()["from_utc"]
    assert zone == timezone.localtime().utcoffset().total_seconds()


@pytest.mark.django_db(transaction=True)
def test_two_people_who_tap_at_the_same_instant_make_one_reading(run, monkeypatch):
    monkeypatch.setattr(timing_runs, "_expected_offset", lambda run, at: sleep(0.2) or 0.0)
    at, together = timezone.now() - timedelta(hours=1), Barrier(4)

    def tap(late):
        together.wait()
        try:
            return timing_runs.take_tap(run=run, at=at + timedelta(seconds=late), plus_minus_s=0.01)[1]
        finally:
            connection.close()

    with ThreadPoolExecutor(4) as people:
        assert sorted(people.map(tap, (0.0, 0.4, 0.8, 1.2))) == [False, False, False, True]
    assert Reading.objects.count() == 1
