"""A stage's page: ticking, measuring, time, closing and undoing."""

from datetime import timedelta

import pytest
from django.urls import reverse
from django.utils import timezone

from jobs.history_words import in_words
from jobs.models import GoAhead, Stage, WorkTime
from jobs.options import choosing
from jobs.stages import progress, work_time
from jobs.stages.checklist import items_of
from jobs.timing import timing_runs
from parts.dimensions.field import Source
from parts.models import Instrument
from tests.factories import DialFactory, JobFactory, MovementFactory, PairingFactory, UserFactory

pytestmark = pytest.mark.django_db


@pytest.fixture
def job(owner):
    job = JobFactory()
    pairing = PairingFactory(dial=DialFactory(dated=True), movement=MovementFactory(dated=True), name="Grey")
    choosing.choose(option=choosing.add_option(job=job, pairing=pairing, by=owner), by=owner)
    GoAhead.objects.create(job=job, how="phone", said_by="O. Reed", on=timezone.localdate(), by=owner)
    return job


def address(name, job, kind, *more):
    return reverse(f"jobs:{name}", args=[job.number, kind, *more])


def report_of(job):
    return choosing.report_of(choosing.chosen_option(job))


def finish(job, owner, *kinds):
    for kind in kinds:
        stage = job.stages.get(kind=kind)
        for item in items_of(kind, report_of(job), job):
            progress.tick(stage=stage, item=item, done=True, by=owner)
        progress.close(stage=stage, report=report_of(job), by=owner)


def test_a_date_movement_gets_its_own_items(owner_client, job):
    text = owner_client.get(address("stage", job, "hands")).text
    assert "Hour hand set to 12 as the date jumps." in text
    assert "Date changes within five minutes of midnight." in text
    assert "Top of the hour hand 0.90 mm above the dial." in text


def test_ticking_and_taking_back_leave_a_trail(owner_client, job):
    item = items_of("teardown", report_of(job), job)[0]
    owner_client.post(address("tick", job, "teardown"), {"item": item.key, "done": "on"})
    assert job.stages.get(kind="teardown").ticks.get().key == item.key
    owner_client.post(address("tick", job, "teardown"), {"item": item.key, "done": "off"})
    owner_client.post(address("tick", job, "teardown"), {"item": "nonsense", "done": "on"})
    assert job.stages.get(kind="teardown").ticks.count() == 0
    trail = list(job.events.filter(stage="teardown").values_list("kind", "data"))
    assert trail == [("tick-undone", {"item": item.name}), ("ticked", {"item": item.name})]


def test_a_stage_with_open_items_stays_open_and_says_why(owner_client, job):
    response = owner_client.post(address("stage-close", job, "teardown"), follow=True)
    assert "required items are not ticked" in response.text
    assert job.stages.get(kind="teardown").state == "ahead"


def test_stages_go_in_order(owner_client, job, owner):
    reasons = progress.blockers(job.stages.get(kind="dial"), report_of(job))
    assert reasons[0] == "Finish or skip teardown first."
    finish(job, owner, "teardown", "holder")
    assert "Finish or skip" not in " ".join(progress.blockers(job.stages.get(kind="dial"), report_of(job)))


def test_teardown_needs_the_go_ahead(owner_client, job):
    job.go_aheads.update(undone=True)
    assert "The customer has not agreed yet: no accepted quote, no go-ahead." in progress.blockers(
        job.stages.get(kind="teardown"), None
    )


def test_skipping_needs_a_reason_and_is_undone(owner_client, job):
    assert owner_client.post(address("stage-skip", job, "holder"), {"reason": ""}).status_code == 422
    owner_client.post(address("stage-skip", job, "holder"), {"reason": "sits directly"})
    assert job.stages.get(kind="holder").state == "skipped"
    owner_client.post(address("stage-open", job, "holder"))
    stage = job.stages.get(kind="holder")
    assert (stage.state, stage.reason) == ("ahead", "sits directly")
    assert in_words(job.events.filter(stage="holder").first()) == ("Holder reopened", "", "")


def test_the_handover_is_never_skipped(owner_client, job):
    response = owner_client.post(address("stage-skip", job, "handover"), {"reason": "no"}, follow=True)
    assert "cannot be skipped" in response.text


def test_the_stem_needs_its_measured_length_and_not_below_l(owner_client, job, owner):
    stage = job.stages.get(kind="stem")
    assert "Measure the stem after cutting and enter its length." in progress.blockers(stage, report_of(job))
    wanted = report_of(job).stem.length
    owner_client.post(address("measurements", job, "stem"), {"stem.length": f"{wanted - 0.3:.2f}"})
    held = " ".join(progress.blockers(Stage.objects.get(pk=stage.pk), report_of(job)))
    assert "The stem is 0.30 mm shorter than L" in held
    owner_client.post(address("measurements", job, "stem"), {"stem.length": f"{wanted:.2f}"})
    held = " ".join(progress.blockers(Stage.objects.get(pk=stage.pk), report_of(job)))
    assert "shorter" not in held


def test_a_stem_cut_to_what_is_needed_and_stored_is_not_told_as_worse(owner_client, job):
    """The number is as good as before; only the ± with which it was taken says otherwise."""
    wanted, path = report_of(job).stem.length, address("measurements", job, "stem")
    owner_client.post(path, {"stem.length": f"{wanted + 0.04:.2f} ±0.001"})
    assert report_of(job)["stem-length"].verdict == "fits"
    answer = owner_client.post(path, {"stem.length": f"{wanted:.2f} ±0.08"}, follow=True)
    assert report_of(job)["stem-length"].verdict == "work"
    assert "Stem length (less sure): was fits, now work." in answer.text
    assert "worse" not in answer.text
    answer = owner_client.post(path, {"stem.length": f"{wanted - 0.3:.2f}"}, follow=True)
    assert "worse" not in answer.text, "work before, work now"
    owner_client.post(path, {"stem.length": f"{wanted + 0.04:.2f} ±0.001"})
    answer = owner_client.post(path, {"stem.length": f"{wanted - 0.3:.2f}"}, follow=True)
    assert "Stem length (worse): was fits, now work." in answer.text


def test_measurements_land_on_their_field_and_tell_what_changed(owner_client, job):
    data = {"case.back_depth": "3,70", "case.bore_diameter": "wide", "dial.thickness": "-1"}
    response = owner_client.post(address("measurements", job, "teardown"), data)
    assert response.status_code == 422
    assert "“wide” is not a number" in response.text
    assert "must be above 0, at most 100 mm" in response.text
    assert "Back clearance (worse): was fits, now no." in response.text
    assert report_of(job)["back-gap"].verdict == "no"
    assert job.stages.get(kind="teardown").measured == {"case.back_depth": "3.70 ±0.08"}


def test_a_changed_number_takes_its_tick_back(owner_client, job, owner):
    before = {item.name: item for item in items_of("hands", report_of(job), job)}["height-hour"]
    progress.tick(stage=job.stages.get(kind="hands"), item=before, done=True, by=owner)
    owner_client.post(address("measurements", job, "dial"), {"dial.thickness": "0.50"})
    after = {item.name: item for item in items_of("hands", report_of(job), job)}["height-hour"]
    assert after.text == "Top of the hour hand 0.80 mm above the dial."
    assert after.key != before.key


def test_time_is_kept_by_a_timer_and_by_hand(owner_client, job):
    url = address("time", job, "dial")
    owner_client.post(url, {"do": "start"})
    WorkTime.objects.update(started=timezone.now() - timedelta(minutes=12))
    assert "running since" in owner_client.get(address("stage", job, "dial")).text
    owner_client.post(url, {"do": "stop"})
    owner_client.post(url, {"do": "add", "minutes": 30, "note": "feet"})
    assert "Time spent <small>42\xa0min</small>" in owner_client.get(address("stage", job, "dial")).text
    assert owner_client.post(url, {"do": "add", "minutes": "0"}).status_code == 422
    owner_client.post(address("time-leave-out", job, "dial", WorkTime.objects.first().pk))
    assert "Time spent <small>30\xa0min</small>" in owner_client.get(address("stage", job, "dial")).text


@pytest.mark.parametrize(("beyond", "is_short"), [(0.02, True), (-0.02, False)])
def test_a_stem_may_be_short_by_the_crowns_gap_and_no_more(owner_client, job, beyond, is_short):
    report = report_of(job)
    length = report.stem.length - report.pairing.rules.crown_gap - beyond
    owner_client.post(address("measurements", job, "stem"), {"stem.length": f"{length:.3f}"})
    held = " ".join(progress.blockers(job.stages.get(kind="stem"), report_of(job)))
    assert ("shorter than L" in held) is is_short


def test_a_timer_stops_only_that_of_the_same_person(job, owner):
    dial, hands, second = job.stages.get(kind="dial"), job.stages.get(kind="hands"), UserFactory()
    others = work_time.start_timer(stage=dial, by=second)
    first = work_time.start_timer(stage=dial, by=owner)
    work_time.start_timer(stage=hands, by=owner)
    others.refresh_from_db()
    first.refresh_from_db()
    assert others.ended is None
    assert first.ended is not None


def test_a_timer_that_runs_while_the_clock_is_set_back_counts_nothing_instead_of_taking_away(job, owner):
    timer = work_time.start_timer(stage=job.stages.get(kind="dial"), by=owner)
    assert work_time.minutes_of([timer], now=timer.started - timedelta(hours=1)) == 0
    assert work_time.minutes_of([timer], now=timer.started + timedelta(minutes=5)) == 5


def test_the_pressure_that_the_watch_held_is_noted_with_the_handover(owner_client, job):
    url, page = address("remarks", job, "handover"), address("stage", job, "handover")
    stamp = owner_client.get(page).context["remarks_form"].stamp
    owner_client.post(url, {"remarks": "", "pressure_bar": "3,5", "stamp": stamp})
    assert str(job.stages.get(kind="handover").pressure_bar) == "3.5"
    stamp = owner_client.get(page).context["remarks_form"].stamp
    for wrong in ("0", "-3", "1000", "high"):
        response = owner_client.post(url, {"remarks": "", "pressure_bar": wrong, "stamp": stamp})
        assert response.status_code == 422
        assert response.context["remarks_form"].errors["pressure_bar"]
        assert f'value="{wrong}"' in response.text
    assert "pressure_bar" not in owner_client.get(address("stage", job, "dial")).text


def test_remarks_of_two_tabs_do_not_overwrite(owner_client, job):
    url = address("remarks", job, "dial")
    stamp = owner_client.get(address("stage", job, "dial")).context["remarks_form"].stamp
    owner_client.post(url, {"remarks": "one", "stamp": stamp})
    response = owner_client.post(url, {"remarks": "two", "stamp": stamp})
    assert response.status_code == 422
    assert "Saved now: one" in response.text
    assert ">\ntwo</textarea>" in response.text
    assert job.stages.get(kind="dial").remarks == "one"


def test_the_timing_test_closes_on_a_rate_within_limits(owner_client, job, owner):
    stage = job.stages.get(kind="timing")
    assert "Take at least two readings first." in progress.blockers(stage, None)
    run = timing_runs.start_run(job=job, by=owner)
    start = timezone.now() - timedelta(days=4)
    for day in range(5):
        timing_runs.add_reading(run=run, at=start + timedelta(days=day), offset_s=0.1 * day, how="tap")
    assert timing_runs.last_verdict(job).word == "within"
    assert "rate" not in " ".join(progress.blockers(stage, report_of(job)))


def test_a_rate_that_is_not_known_yet_holds_the_timing_test_open(job, owner):
    stage = job.stages.get(kind="timing")
    run = timing_runs.start_run(job=job, by=owner)
    for minutes in (20, 0):
        at = timezone.now() - timedelta(minutes=minutes)
        timing_runs.add_reading(run=run, at=at, offset_s=0.1, how="tap")
    assert any("do not tell a rate yet" in words for words in progress.blockers(stage, None))


def test_a_finished_job_closes(owner_client, job, owner):
    finish(job, owner, "teardown", "holder", "dial", "hands")
    for kind in ("stem", "timing"):
        progress.skip(stage=job.stages.get(kind=kind), reason="done before", by=owner)
    finish(job, owner, "handover")
    owner_client.post(reverse("jobs:state", args=[job.number]), {"do": "finished"})
    job.refresh_from_db()
    assert (job.stage, job.state) == ("", "finished")


def test_a_second_tab_does_not_put_its_old_number_over_a_new_one(owner_client, job):
    url = address("measurements", job, "teardown")
    page = {"case.back_depth": "", "case.back_depth-was": "", "case.back_depth-stood": "4.20 mm"}
    owner_client.post(url, page | {"case.back_depth": "4.10"})
    untouched = owner_client.post(url, page | {"dial.thickness": "0.42"})
    assert untouched.status_code == 302
    assert job.stages.get(kind="teardown").measured["case.back_depth"] == "4.10 ±0.08"
    response = owner_client.post(url, page | {"case.back_depth": "4.00"})
    assert response.status_code == 422
    assert "Someone changed this: now 4.10 ±0.08 mm." in response.text
    assert 'value="4.00"' in response.text
    owner_client.post(url, page | {"case.back_depth": "4.00", "case.back_depth-stood": "4.10 ±0.08 mm"})
    assert job.stages.get(kind="teardown").measured["case.back_depth"] == "4.00 ±0.08"


def test_an_emptied_field_takes_its_measurements_back(owner_client, job):
    url = address("measurements", job, "teardown")
    case = choosing.chosen_option(job).pairing.case
    type(case).objects.filter(pk=case.pk).update(back_depth_source=Source.SHEET)
    for was, text in (("", "3.70"), ("3.70", "3.80"), ("3.80", "")):
        owner_client.post(url, {"case.back_depth": text, "case.back_depth-was": was})
    own = choosing.chosen_option(job).pairing.case
    assert (own.back_depth, own.back_depth_source) == (4.20, Source.SHEET)
    assert "case.back_depth" not in job.stages.get(kind="teardown").measured
    told = in_words(job.events.get(kind="measurement-undone"))
    assert told == ("Measurement undone: case back depth", "3.80 ±0.08 mm, measured", "4.20 mm, maker's sheet")


def test_what_is_undone_is_the_last_measurement_and_not_one_that_was_undone_before(owner_client, job):
    url = address("measurements", job, "teardown")
    case = choosing.chosen_option(job).pairing.case
    for was, text in (("", "3.70"), ("3.70", "")):
        owner_client.post(url, {"case.back_depth": text, "case.back_depth-was": was})
    own = type(case).objects.filter(pk=choosing.chosen_option(job).pairing.case_id)
    own.update(back_depth=5.00)
    for was, text in (("", "3.80"), ("3.80", "")):
        owner_client.post(url, {"case.back_depth": text, "case.back_depth-was": was})
    assert own.get().back_depth == 5.00


def test_the_unit_stands_behind_every_measurement(owner_client, job):
    text = owner_client.get(address("stage", job, "teardown")).text
    assert text.count('<span class="unit">mm</span>') >= 8


def test_the_copy_made_for_a_job_is_told_in_its_history(owner_client, job):
    other = choosing.chosen_option(job).pairing.case
    PairingFactory(name="Another watch", case=other)
    owner_client.post(address("measurements", job, "teardown"), {"case.back_depth": "4.10"})
    told = in_words(job.events.get(kind="own-copy"))
    assert told.what == "Own copy made of the case"
    assert told.after == f"{other}, {job.number}; {other} stays as it is, since other watches use it"


def test_closing_twice_closes_once(owner_client, job, owner):
    finish(job, owner, "teardown")
    owner_client.post(address("stage-close", job, "teardown"))
    assert job.events.filter(kind="stage-closed", stage="teardown").count() == 1


def test_a_closed_stage_is_not_skipped_and_an_open_one_not_opened(owner_client, job, owner):
    finish(job, owner, "teardown")
    response = owner_client.post(address("stage-skip", job, "teardown"), {"reason": "late"}, follow=True)
    assert "Teardown is already done. Reopen it first." in response.text
    owner_client.post(address("stage-open", job, "dial"))
    owner_client.post(address("stage-open", job, "intake"))
    assert not job.events.filter(kind="stage-reopened").exists()


def test_a_stage_of_a_watch_that_stays_closed_is_not_skipped(owner_client, job):
    job.luminous = "aged"
    job.save()
    response = owner_client.post(address("stage-skip", job, "teardown"), {"reason": "later"}, follow=True)
    assert "The luminous paint is not cleared" in response.text
    assert job.stages.get(kind="teardown").state == "ahead"


def test_nothing_moves_in_the_stages_of_a_closed_job(owner_client, job, owner):
    finish(job, owner, "teardown")
    owner_client.post(reverse("jobs:state", args=[job.number]), {"do": "declined"})
    item = items_of("holder", report_of(job), job)[0]
    for name, kind, data in (
        ("tick", "holder", {"item": item.key, "done": "on"}),
        ("stage-open", "teardown", {}),
        ("stage-skip", "holder", {"reason": "why not"}),
    ):
        response = owner_client.post(address(name, job, kind), data, follow=True)
        assert "This job is closed. Reopen it first." in response.text
    assert not job.stages.get(kind="holder").ticks.exists()
    assert job.stages.get(kind="teardown").state == "done"


def test_ticking_what_is_not_on_the_list_is_told(owner_client, job):
    data = {"item": "nonsense", "done": "on"}
    response = owner_client.post(address("tick", job, "teardown"), data, headers={"hx-request": "true"})
    assert "The list has changed meanwhile" in response.text


@pytest.mark.parametrize("name", ["tick", "stage-close", "stage-skip", "stage-open", "measurements", "time", "remarks"])
def test_who_comes_by_a_link_to_what_is_sent_is_led_to_the_stage(owner_client, job, name):
    assert owner_client.get(address(name, job, "dial")).url == address("stage", job, "dial")


def test_a_measurement_takes_the_plus_minus_of_what_is_in_hand_and_says_how_it_was_taken(owner_client, job):
    address = f"/jobs/{job.number}/teardown/measurements/"
    gauge = Instrument.objects.get(name="Depth gauge")
    typed = {"case.back_depth": "3.70 3.72 3.71", "case.stem_axis_depth": "2.05", "in_hand": str(gauge.pk)}
    assert owner_client.post(address, typed).status_code == 302
    case = choosing.chosen_option(job).pairing.case
    assert (case.back_depth, case.back_depth_pm, case.stem_axis_depth_pm) == (3.71, 0.047, 0.03)
    assert case.taken["back_depth"] == {"instrument": "Depth gauge", "readings": [3.7, 3.72, 3.71]}
    left = {"case.back_depth": "3.71 ±0.047", "case.stem_axis_depth": ""}
    owner_client.post(address, left)
    case = choosing.chosen_option(job).pairing.case
    assert "stem_axis_depth" not in case.taken
    assert "back_depth" in case.taken
