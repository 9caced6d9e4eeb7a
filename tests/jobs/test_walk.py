"""A whole job through the functions behind the pages."""

from datetime import date

import pytest

from jobs import bench, luminous
from jobs.job.number import next_number
from jobs.models import GoAhead, Job, Stage
from jobs.options import choosing
from jobs.stages import measuring, progress, work_time
from jobs.stages.checklist import items_of
from jobs.timing import timing_runs
from parts.fit import check_sheet
from parts.models import Hand, Stem
from tests.factories import CaseFactory, DialFactory, JobFactory, PairingFactory, UserFactory
from tests.fit.constructions.sheets import FRONT, SMALL
from tests.fit.sheets import sheet

pytestmark = pytest.mark.django_db


def test_numbers_count_up_within_their_year():
    assert [next_number(2026), next_number(2026), next_number(2027)] == ["26-001", "26-002", "27-001"]


def test_a_job_goes_from_teardown_to_handover(owner):
    job = JobFactory(luminous=Job.Luminous.AGED)
    option = choosing.add_option(job=job, pairing=PairingFactory(name="Grey one"), by=owner)
    assert str(option.pairing) == f"Grey one, {job.number}"
    choosing.choose(option=option, by=owner)
    teardown = job.stages.get(kind="teardown")
    report = choosing.report_of(choosing.chosen_option(job))
    held = progress.blockers(teardown, report)
    assert held[0] == "The luminous paint is not cleared: the watch stays closed."
    assert held[1] == "The customer has not agreed yet: no accepted quote, no go-ahead."
    luminous.clear(job=job, how="reading", note="background level", on=date(2026, 11, 2), by=owner)
    GoAhead.objects.create(job=job, how="phone", said_by="J. Reed", on=date(2026, 11, 3), by=owner)
    for kind in ("teardown", "holder", "dial", "hands"):
        stage = job.stages.get(kind=kind)
        with pytest.raises(progress.StageBlocked):
            progress.close(stage=stage, report=report, by=owner)
        for item in items_of(kind, report, stage.job):
            progress.tick(stage=stage, item=item, done=True, by=owner)
        progress.close(stage=stage, report=report, by=owner)
    job.refresh_from_db()
    assert job.stage == "stem"


def test_measuring_writes_to_a_copy_where_others_use_the_part(owner):
    shared = PairingFactory(name="Shared")
    job = JobFactory()
    option = choosing.add_option(job=job, pairing=type(shared).objects.get(pk=shared.pk), by=owner)
    stage = job.stages.get(kind="teardown")
    pairing = choosing.options_of(job)[0].pairing
    changed = measuring.write_back(stage=stage, pairing=pairing, path="case.back_depth", text="3,70 +-0.02", by=owner)
    assert list(changed) == [("Back clearance", "fits", "no")]
    shared.case.refresh_from_db()
    assert shared.case.back_depth == 4.20
    option.pairing.refresh_from_db()
    assert str(option.pairing.case) == f"{shared.case}, {job.number}"
    assert option.pairing.case.back_depth == 3.70
    assert [kept.report["verdict"] for kept in option.reports.all()] == ["no", "work"]


def test_the_bench_groups_by_what_a_job_waits_for(owner, django_assert_num_queries):
    JobFactory(waits_for="parts")
    JobFactory.create_batch(3, luminous=Job.Luminous.AGED)
    with django_assert_num_queries(3 + len(Job.WaitsFor.values)):
        found = {
            group.waits_for: (group.count, [bench.next_action(job) for job in group.jobs]) for group in bench.groups()
        }
    assert found["me"][0] == 3
    assert found["parts"] == (1, ["Choose the parts"])
    assert found["me"][1][0] == "Clear the luminous paint first"


def test_a_clearance_that_was_undone_leaves_the_paint_to_be_cleared(owner):
    job = JobFactory(luminous=Job.Luminous.AGED)
    made = luminous.clear(job=job, how="reading", note="background level", on=date(2026, 11, 2), by=owner)

    def next_action():
        (group,) = (group for group in bench.groups() if group.jobs)
        return bench.next_action(group.jobs[0])

    assert next_action() == "Choose the parts"
    luminous.undo(clearance=made, by=owner)
    assert next_action() == "Clear the luminous paint first"


def test_one_search_finds_jobs_customers_and_parts(owner):
    job = JobFactory(customer__name="Ottilie Reed", watch="silver dial")
    PairingFactory(dial__name="silver grey")
    assert [word for word, _ in bench.search("ottilie")] == ["Jobs", "Customers"]
    assert [word for word, _ in bench.search("silver")] == ["Jobs", "Dials"]
    assert [hit.url for _, hits in bench.search(job.number) for hit in hits] == [job.get_absolute_url()]


def test_a_second_timer_stops_the_first(owner):
    job = JobFactory()
    first = work_time.start_timer(stage=job.stages.get(kind="dial"), by=owner)
    work_time.start_timer(stage=job.stages.get(kind="hands"), by=owner)
    first.refresh_from_db()
    assert first.ended is not None


def test_a_run_without_readings_has_no_verdict(owner):
    job = JobFactory()
    timing_runs.start_run(job=job, by=owner)
    assert timing_runs.last_verdict(job) is None


def test_a_timer_ends_with_its_stage(owner):
    stage = JobFactory().stages.get(kind="holder")
    running = work_time.start_timer(stage=stage, by=owner)
    progress.skip(stage=stage, reason="sits directly", by=owner)
    running.refresh_from_db()
    assert running.ended is not None


def test_a_timer_that_is_left_out_has_ended(owner):
    running = work_time.start_timer(stage=JobFactory().stages.get(kind="holder"), by=owner)
    work_time.undo(work_time=running, by=owner)
    running.refresh_from_db()
    assert running.undone
    assert running.ended is not None


def test_an_own_copy_of_a_dial_has_the_feet_and_markers_of_the_first(owner):
    job, dial = JobFactory(), DialFactory()
    pairing = PairingFactory(dial=dial)
    choosing.add_option(job=job, pairing=pairing, by=owner)
    stage, pairing = job.stages.get(kind="teardown"), choosing.options_of(job)[0].pairing
    measuring.write_back(stage=stage, pairing=pairing, path="dial.thickness", text="0.42", by=owner)
    copy = choosing.options_of(job)[0].pairing.dial
    dial.refresh_from_db()
    assert (copy.made_for, copy.copied_from, copy.thickness, dial.thickness) == (job.number, dial, 0.42, 0.40)
    assert [(each.feet.count(), each.furniture.count()) for each in (copy, dial)] == [(2, 1), (2, 1)]


def test_a_timer_that_is_started_leaves_those_of_others_running(owner):
    stages = JobFactory().stages
    other = work_time.start_timer(stage=stages.get(kind="dial"), by=UserFactory())
    work_time.start_timer(stage=stages.get(kind="hands"), by=owner)
    other.refresh_from_db()
    assert other.ended is None


def test_a_hand_is_measured_by_its_own_name(owner):
    job, pairing = JobFactory(), PairingFactory()
    choosing.choose(option=choosing.add_option(job=job, pairing=pairing, by=owner), by=owner)
    stage, own = job.stages.get(kind="hands"), choosing.chosen_option(job).pairing
    stored = {asked.path: asked.stored for asked in measuring.asked_in(stage, own)}
    names = [f"hands.{name}.hole_diameter" for name in ("hour", "minute", "seconds")]
    assert [stored[name] for name in names] == ["1.49 mm", "0.89 mm", "0.19 mm"]
    measuring.write_back(stage=stage, pairing=own, path=names[1], text="0.88", by=owner)
    after = {asked.path: asked.stored for asked in measuring.asked_in(stage, choosing.chosen_option(job).pairing)}
    assert [after[name] for name in names] == ["1.49 mm", "0.88 mm", "0.19 mm"]
    Hand.objects.filter(role="seconds").delete()
    assert names[2] not in {asked.path for asked in measuring.asked_in(stage, choosing.chosen_option(job).pairing)}


def test_a_stage_asks_only_for_what_the_case_is_built_with(owner):
    """A rectangle has no diameters, and a case loaded from the front is measured from its floor."""

    def asked(**case):
        pairing = PairingFactory(case=CaseFactory(**case), dial=DialFactory())
        stage = Stage(kind="teardown", measured={})
        return {asked.path for asked in measuring.asked_in(stage, pairing) if asked.path.startswith("case.")}

    everyday = {f"case.{name}" for name in ("bore_diameter", "dial_seat_diameter", "stem_axis_depth", "back_depth")}
    gaps, seat = {"case.crystal_gap_centre", "case.crystal_gap_edge"}, "case.crown_seat_radius"
    assert asked() == everyday | gaps | {seat}
    rectangle = {"shape": "rectangle", "width": 18.0, "height": 24.0, "corner": 2.0}
    shaped = {"case.bore_diameter", "case.dial_seat_diameter"}
    assert asked(bore_diameter=None, dial_seat_diameter=None, bore_outline=rectangle) == asked() - shaped
    floor = {f"case.floor_{name}" for name in ("stem", "ring", "crystal_centre", "crystal_edge")}
    split = PairingFactory(stem=Stem.objects.create(name="split", joint_outer_length=6.3))
    of_stem = {asked.path for asked in measuring.asked_in(Stage(kind="stem", measured={}), split)}
    assert ("stem.length" in of_stem, "stem.uncut_gap" in of_stem) == (False, True)
    assert asked(loading="front") == floor | {"case.front_opening_diameter", "case.bore_diameter", seat}


def test_the_holder_stage_of_a_case_loaded_from_the_front_speaks_of_its_floor_and_its_ring():
    report = check_sheet(
        sheet(FRONT | {"case.floor_stem": 2.2, "case.floor_ring": 4.2, "case.floor_crystal_centre": 6.6})
    )
    words = [item.text for item in items_of("holder", report, JobFactory())]
    spacer = next(text for text in words if text.startswith("Spacer of 0."))
    assert spacer.endswith("mm, or the holder's floor, fitted under the movement.")
    assert "The ring over the dial closes without bending the dial, and nothing rattles." in words
    assert not [text for text in words if "case back" in text]
    for kind in ("teardown", "handover"):
        words = [item.text for item in items_of(kind, report, JobFactory())]
        assert not [text for text in words if " back off" in text or "Case back" in text]


def test_the_small_seconds_hand_has_its_height_too():
    report = check_sheet(sheet(SMALL))
    texts = [item.text for item in items_of("hands", report, JobFactory())]
    assert [text for text in texts if text.startswith("Top of the small seconds hand ")]


def test_a_movement_that_is_wound_by_hand_has_no_motor_to_run_on():
    texts = [item.text for kind in ("hands", "timing") for item in items_of(kind, check_sheet(sheet()), JobFactory())]
    assert not [text for text in texts if "motor" in text or text.startswith("Cell")]
