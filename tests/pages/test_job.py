"""The page of a job: gates, options, editing beside another, its end."""

from datetime import timedelta

import pytest
from django.urls import reverse
from django.utils import timezone

from jobs.models import Job, Option
from parts.models import Case, Pairing
from tests.factories import JobFactory, PairingFactory

pytestmark = pytest.mark.django_db


@pytest.fixture
def job():
    return JobFactory(luminous="aged")


def address(name, job, *more):
    return reverse(f"jobs:{name}", args=[job.number, *more])


def facts(job, **changes):
    known = {"case_family": job.case_family_id, "wish": job.wish, "luminous": job.luminous, "edition": job.edition}
    return known | {"watch": job.watch, "serial": "", "came_with": "", "keep": "", "remarks": ""} | changes


def test_unmarked_luminous_material_keeps_the_watch_closed(bench, job):
    assert "Keep this watch closed" in bench.get(job.get_absolute_url()).text
    data = {"how": "reading", "on": str(timezone.localdate()), "note": "background"}
    bench.post(address("luminous", job), data)
    assert "Keep this watch closed" not in bench.get(job.get_absolute_url()).text
    clearance = job.clearances.get()
    bench.post(address("take-back", job, "clearance", clearance.pk))
    page = bench.get(job.get_absolute_url()).text
    assert "Keep this watch closed" in page
    assert "Clearance of luminous material taken back" in page


def test_a_clearance_needs_a_note_and_a_day_that_has_come(bench, job):
    ahead = str(timezone.localdate() + timedelta(days=2))
    response = bench.post(address("luminous", job), {"how": "reading", "on": ahead, "note": ""})
    assert response.status_code == 422
    assert "lies ahead" in response.context["form"].errors["on"][0]
    assert "note" in response.context["form"].errors
    assert "treated as radium" in response.text


def test_options_are_weighed_one_is_chosen_and_old_reports_stay(bench, job):
    kept = PairingFactory(name="With date")
    bench.post(address("option-add", job), {"pairing": kept.pk})
    bench.post(address("option-add", job), {"pairing": PairingFactory(name="Plain").pk})
    first, second = Option.objects.all()
    bench.post(address("option", job, first.pk), {"do": "choose"})
    bench.post(address("option", job, second.pk), {"do": "choose"})
    assert list(Option.objects.values_list("chosen", flat=True)) == [False, True]
    assert first.pairing.name == f"With date, {job.number}"
    assert Pairing.objects.get(pk=kept.pk).name == "With date"
    Case.objects.filter(pk=second.pairing.case_id).update(back_depth=3.70)
    text = bench.get(job.get_absolute_url()).text
    assert "Changed since its report was kept: Room to the case back (fits → no)" in text
    assert second.reports.get().report["verdict"] == "work"
    bench.post(address("option", job, second.pk), {"do": "drop"})
    second.refresh_from_db()
    assert (second.chosen, second.dropped) == (False, True)


def test_changing_the_facts_is_written_into_the_history(bench, job):
    bench.post(address("edit", job), facts(job, watch="cream dial"))
    event = job.events.get(what="Changed: The watch as found")
    assert (event.before, event.after) == ("", "cream dial")


def test_a_second_tab_does_not_overwrite_the_first(bench, job):
    old = facts(job, watch="from tab one")
    bench.post(address("edit", job), old)
    response = bench.post(address("edit", job), facts(job, watch="from tab two", edition=1))
    assert response.status_code == 422
    assert "changed elsewhere since you opened it" in response.text
    assert "Stands there now: from tab one" in response.text
    assert 'value="from tab two"' in response.text
    job.refresh_from_db()
    assert job.watch == "from tab one"
    again = response.context["form"]["edition"].value()
    bench.post(address("edit", job), facts(job, watch="both seen", edition=again))
    job.refresh_from_db()
    assert job.watch == "both seen"


def test_a_job_is_closed_opened_again_and_archived_never_deleted(bench, job):
    response = bench.post(address("state", job), {"do": "finished"}, follow=True)
    assert "Not every stage is closed or skipped" in response.text
    bench.post(address("state", job), {"do": "returned"})
    bench.post(address("state", job), {"do": "archive"})
    job.refresh_from_db()
    assert (job.state, job.archived, job.waits_for) == ("returned", True, "nothing")
    bench.post(address("state", job), {"do": "open"})
    bench.post(address("state", job), {"do": "bring-back"})
    assert list(Job.objects.values_list("state", "archived")) == [("open", False)]
    assert job.events.count() == 4


def test_what_it_waits_for_is_said(bench, job):
    bench.post(address("state", job), {"waits_for": "customer"})
    bench.post(address("state", job), {"waits_for": "nonsense"})
    job.refresh_from_db()
    assert job.waits_for == "customer"


def test_an_unknown_number_is_not_found(bench):
    assert bench.get("/jobs/26-999/").status_code == 404


def test_opening_an_archived_job_puts_it_back_on_the_bench(bench, job):
    for do in ("declined", "archive", "open"):
        bench.post(address("state", job), {"do": do})
    job.refresh_from_db()
    assert (job.state, job.archived) == ("open", False)
    assert job.number in bench.get("/").text


def test_an_open_job_is_not_archived(bench, job):
    response = bench.post(address("state", job), {"do": "archive"}, follow=True)
    assert "close it as finished, declined or returned before archiving it" in response.text
    job.refresh_from_db()
    assert not job.archived


def test_what_is_said_twice_happens_once(bench, job):
    for _ in range(2):
        bench.post(address("state", job), {"waits_for": "parts"})
    for _ in range(2):
        bench.post(address("state", job), {"do": "returned"})
    response = bench.post(address("state", job), {"do": "declined"}, follow=True)
    assert "The job is closed already as returned unrepaired" in response.text
    response = bench.post(address("state", job), {"waits_for": "me"}, follow=True)
    assert "waits for nothing" in response.text
    assert [event.what for event in job.events.all()] == ["Job closed", "Waits for"]


def test_closing_a_job_stops_its_timers(bench, job, owner):
    bench.post(reverse("jobs:time", args=[job.number, "dial"]), {"do": "start"})
    bench.post(address("state", job), {"do": "declined"})
    assert job.stages.get(kind="dial").work_times.get().ended is not None
