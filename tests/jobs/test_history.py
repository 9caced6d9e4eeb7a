"""Each act leaves its line of history: who, what, from what to what; an act that changes nothing leaves none."""

from datetime import date

import pytest

from jobs import go_ahead, luminous, stock
from jobs.history_words import in_words
from jobs.job import state
from jobs.models import LuminousClearance
from jobs.options import choosing
from jobs.past import outcome
from jobs.stages import measuring, work_time
from parts.models import Case
from tests.factories import JobFactory, MovementFactory, PairingFactory

pytestmark = pytest.mark.django_db


@pytest.fixture
def job():
    return JobFactory()


@pytest.fixture
def option(job, owner):
    return choosing.add_option(job=job, pairing=PairingFactory(name="Grey"), by=owner)


def last(job):
    return job.events.first()


def test_a_go_ahead_and_its_undoing(job, owner):
    made = go_ahead.give(job=job, how="phone", said_by="Ms Reed", on=date(2026, 11, 3), note="", by=owner)
    event = last(job)
    assert (event.kind, event.by, event.data) == ("go-ahead", owner, {"go_ahead": made.pk, "how": "phone"})
    assert in_words(event) == ("Go-ahead noted", "", "by phone, Ms Reed")
    go_ahead.undo(go_ahead=made, by=owner)
    assert last(job).data == {"go_ahead": made.pk, "how": "phone"}
    assert in_words(last(job)) == ("Go-ahead undone", "by phone, Ms Reed", "")
    made.refresh_from_db()
    assert made.undone


def test_a_clearance_of_luminous_paint_and_its_undoing(job, owner):
    made = luminous.clear(job=job, how="reading", note="background level", on=date(2026, 11, 2), by=owner)
    event = last(job)
    assert (event.kind, event.by, event.stage) == ("cleared", owner, "teardown")
    assert event.data == {"clearance": made.pk, "how": "reading"}
    assert in_words(event) == ("Luminous paint cleared", "", "instrument reading: background level")
    luminous.undo(clearance=made, by=owner)
    assert (last(job).stage, last(job).data) == ("teardown", {"clearance": made.pk, "how": "reading"})
    assert in_words(last(job)) == ("Clearance of luminous paint undone", "instrument reading", "")
    assert LuminousClearance.objects.get().undone


def test_options_added_chosen_ruled_out_and_reconsidered(job, option, owner):
    assert (last(job).kind, last(job).data) == ("option-added", {"option": option.pk})
    choosing.choose(option=option, by=owner)
    assert last(job).data == {"option": option.pk, "before": None}
    assert in_words(last(job)) == ("Option chosen", "", f"Grey, {job.number}")
    other = choosing.add_option(job=job, pairing=PairingFactory(name="Plain"), by=owner)
    choosing.choose(option=other, by=owner)
    assert last(job).data == {"option": other.pk, "before": option.pk}
    assert in_words(last(job)) == ("Option chosen", f"Grey, {job.number}", f"Plain, {job.number}")
    choosing.rule_out(option=other, by=owner)
    assert (last(job).kind, last(job).data) == ("option-ruled-out", {"option": other.pk})
    choosing.rule_out(option=other, by=owner, ruled_out=False)
    assert (last(job).kind, last(job).data) == ("option-reconsidered", {"option": other.pk})
    other.refresh_from_db()
    assert (other.chosen, other.ruled_out) == (False, False)


def test_what_changes_nothing_leaves_no_line(job, option, owner):
    choosing.choose(option=option, by=owner)
    count = job.events.count()
    choosing.choose(option=option, by=owner)
    choosing.rule_out(option=option, by=owner, ruled_out=False)
    assert job.events.count() == count
    choosing.rule_out(option=option, by=owner)
    choosing.rule_out(option=option, by=owner)
    assert job.events.count() == count + 1


def test_time_added_left_out_and_counted_again(job, owner):
    stage = job.stages.get(kind="dial")
    made = work_time.add_minutes(stage=stage, minutes=25, note="at home", by=owner)
    assert (last(job).stage, last(job).data) == ("dial", {"time": made.pk, "minutes": 25})
    assert in_words(last(job)) == ("Time added by hand", "", "25 min at home")
    work_time.undo(work_time=made, by=owner)
    assert in_words(last(job)) == ("Time left out", "25 min", "")
    work_time.undo(work_time=made, by=owner, undone=False)
    assert in_words(last(job)) == ("Time counted again", "25 min", "")


def test_a_measurement_where_none_was(job, option, owner):
    Case.objects.update(back_depth=None)
    pairing = choosing.options_of(job)[0].pairing
    stage = job.stages.get(kind="teardown")
    measuring.write_back(stage=stage, pairing=pairing, path="case.back_depth", text="3.70", by=owner)
    event = job.events.get(kind="measured")
    assert (event.stage, event.data["path"], event.data["before"]) == ("teardown", "case.back_depth", None)
    assert in_words(event)[1:] == ("not measured", "3.70 mm, measured")


def test_what_a_job_waits_for_its_closing_and_its_opening_again(job, owner):
    state.wait_for(job=job, whom="parts", by=owner)
    assert (last(job).data, in_words(last(job))[1:]) == (
        {"before": "me", "after": "parts"},
        ("Your turn", "Waiting for parts"),
    )
    state.close_job(job=job, state="returned", by=owner)
    assert (last(job).data, in_words(last(job))[1:]) == (
        {"before": "open", "after": "returned"},
        ("open", "returned as it came"),
    )
    state.archive(job=job, archived=True, by=owner)
    assert (last(job).kind, last(job).data) == ("archived", {"before": False, "after": True})
    state.open_job_again(job=job, by=owner)
    assert [event.kind for event in job.events.all()[:2]] == ["reopened", "brought-back"]
    assert (last(job).data, in_words(last(job))[1:]) == (
        {"before": "returned", "after": "open"},
        ("returned as it came", "open"),
    )


def test_a_part_set_aside_used_and_put_back(job, owner):
    movement = MovementFactory(name="Sprig", in_stock=2)
    for became, kind in (("used", "part-used"), ("released", "part-put-back")):
        use = stock.put_aside(job=job, kind="movements", part=movement, by=owner)
        facts = {"use": use.pk, "part_kind": "movements", "part": movement.pk}
        assert (last(job).kind, last(job).data, last(job).after) == ("put-aside", facts, "Sprig")
        stock.settle(use=use, state=became, by=owner)
        assert (last(job).kind, last(job).data, last(job).after) == (kind, facts, "Sprig")


def test_an_option_that_was_ruled_out_and_is_chosen_is_weighed_again(option, owner):
    choosing.rule_out(option=option, by=owner)
    choosing.choose(option=option, by=owner)
    option.refresh_from_db()
    assert (option.chosen, option.ruled_out) == (True, False)


def test_what_the_bench_said_of_a_check_is_told_once(job, owner):
    check = {"key": "back-gap", "title": "Back clearance", "verdict": "fits"}
    for said in (("", ""), ("no", "rubs"), ("no", "rubs"), ("work", "rubs")):
        outcome.store(outcome=outcome.outcome_of(job), before={}, said=[(check, said)], by=owner)
    told = [(event.data["before"], event.data["after"]) for event in job.events.filter(kind="hindsight")]
    assert told == [("no", "work"), ("", "no")]
