"""Past swaps in a real browser: found, marked, compared, taken over, counted."""

import pytest
from playwright.sync_api import expect

from jobs.models import Job, Outcome
from parts.models import PartNote
from tests.browser.faults import assert_no_serious_faults, assert_whole
from tests.factories import CaseFactory, CaseFamilyFactory
from tests.jobs.past.generate import generate


@pytest.fixture
def jobs(live_server, owner):
    """Thirty past jobs, and a case whose dimensions are near to another's."""
    found = generate(30, by=owner)
    for name, bore in (("first", 26.20), ("second", 26.21)):
        CaseFactory(name=name, bore_diameter=bore, family=found[0].case_family)
    return found


def test_a_past_swap_is_found_by_mistyped_words_and_read(page, jobs):
    page.goto("/")
    page.get_by_role("link", name="Past swaps").click()
    expect(page.locator(".past-line")).to_have_count(25)
    assert_no_serious_faults(page)
    page.get_by_label("Words").fill("quarzt movment")
    page.keyboard.press("Enter")
    expect(page.get_by_text("No job contains “quarzt”")).to_be_visible()
    expect(page.locator(".past-line mark").first).to_be_visible()
    assert_whole(page)


def test_the_list_goes_on_by_keyboard(page, jobs):
    page.goto("/past/?state=any")
    page.get_by_role("link", name="Next").focus()
    page.keyboard.press("Enter")
    expect(page.locator(".past-line")).to_have_count(5)


def test_what_came_of_a_job_is_said_and_found_again(page, jobs):
    number = next(job.number for job in jobs if job.state == "finished")
    page.goto(f"/jobs/{number}/outcome/")
    assert_no_serious_faults(page)
    page.get_by_label("How it turned out").select_option("trouble")
    page.get_by_label("What went wrong").fill("Verdigris under the washer.")
    page.get_by_label("back-gap: at the bench").select_option("no")
    page.get_by_label("Keep as a lesson").check()
    page.get_by_role("button", name="Save").click()
    expect(page.get_by_text("Say in a few words what this job teaches")).to_be_visible()
    expect(page.get_by_label("What went wrong")).to_have_value("Verdigris under the washer.")
    page.get_by_label("The lesson").fill("Look under the washer.")
    page.get_by_role("button", name="Save").click()
    expect(page.get_by_role("heading", name="How it turned out")).to_be_visible()
    assert_no_serious_faults(page)
    page.goto("/past/?q=verdigris")
    expect(page.locator(".past-line mark")).to_have_text("Verdigris")
    assert Outcome.objects.get(job__number=number).learn


def test_a_case_leads_to_those_with_nearly_its_dimensions(page, jobs):
    family = jobs[0].case_family
    page.goto(f"/parts/cases/{family.cases.get(name='first').pk}/")
    page.get_by_role("link", name="Cases with nearly these dimensions").click()
    expect(page.get_by_text("Agrees in the")).to_have_count(0)
    expect(page.get_by_role("heading", name="second")).to_be_visible()
    assert_whole(page)


def test_a_watch_is_logged_like_a_past_one(page, jobs):
    source = next(job for job in jobs if job.state == "finished")
    page.goto(f"/past/?q={source.number}")
    page.get_by_role("link", name="Log a watch like this").first.click()
    expect(page.get_by_text("Copied here: ")).to_be_visible()
    assert_no_serious_faults(page)
    page.get_by_label("Customer", exact=True).fill("Ida Fern")
    page.get_by_label("Phone").fill("555 0199")
    page.get_by_label("Luminous paint", exact=True).first.select_option("none")
    page.get_by_label("What the customer wants").fill("The same")
    page.get_by_role("button", name="Log this watch").click()
    expect(page.get_by_role("heading", name="Papers for Ida Fern")).to_be_visible()
    made = Job.objects.latest("pk")
    assert made.options.get(chosen=True).pairing.movement == source.movement


def test_the_numbers_of_the_shop_stand_as_pictures_and_tables(page, jobs):
    page.goto("/past/numbers/?since=&until=")
    expect(page.locator("svg.chart")).to_have_count(5)
    expect(page.get_by_role("img", name="Turnaround by quarter")).to_be_visible()
    assert_whole(page)
    with page.expect_download() as download:
        page.get_by_role("link", name="Hours by stage as CSV").click()
    assert download.value.suggested_filename == "dialside-stages.csv"


def test_a_trap_is_written_down_put_away_and_brought_back(page, live_server, db):
    family = CaseFamilyFactory(name="Bramblegate 36")
    page.goto(f"/parts/case-families/{family.pk}/")
    page.get_by_role("link", name="Add a tip").click()
    page.get_by_label("Tip").fill("Break the burr first.")
    page.get_by_role("button", name="Save").click()
    expect(page.locator(".own-notes")).to_contain_text("Break the burr first.")
    assert_no_serious_faults(page)
    page.get_by_role("button", name="Archive the tip").click()
    page.get_by_text("1 archived").click()
    page.get_by_role("button", name="Bring back the tip").click()
    expect(page.get_by_role("button", name="Archive the tip")).to_be_visible()
    assert PartNote.objects.get().archived is False
