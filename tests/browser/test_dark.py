"""The pages where most time is spent, with the system set to dark, looked at on a desk, a tablet and a telephone."""

from datetime import timedelta

import pytest
from django.utils import timezone
from playwright.sync_api import expect

from jobs.options import choosing
from tests.browser.faults import DESK, TABLET, TELEPHONE, assert_whole
from tests.factories import JobFactory, PairingFactory


@pytest.fixture
def dark_page(page):
    page.emulate_media(color_scheme="dark")
    return page


@pytest.fixture
def late_job(live_server, owner):
    job = JobFactory(promised=timezone.localdate() - timedelta(days=5), customer__phone="555 0101")
    choosing.choose(option=choosing.add_option(job=job, pairing=PairingFactory(), by=owner), by=owner)
    JobFactory(promised=timezone.localdate() + timedelta(days=3), waits_for="parts")
    return job


def test_the_bench_and_a_job(dark_page, late_job):
    dark_page.goto("/")
    expect(dark_page.get_by_role("heading", name="Get the go-ahead")).to_be_visible()
    background = dark_page.evaluate("getComputedStyle(document.documentElement).backgroundColor")
    assert max(int(part) for part in background.strip("rgb()").split(",")) < 40
    assert_whole(dark_page, widths=(DESK, TABLET, TELEPHONE))
    dark_page.goto(late_job.get_absolute_url())
    assert_whole(dark_page, widths=(DESK, TABLET, TELEPHONE))


def test_a_fit_check_and_a_quick_check(dark_page, late_job):
    dark_page.goto(f"/parts/pairings/{late_job.options.get().pairing_id}/")
    expect(dark_page.locator("svg.drawing").first).to_be_visible()
    assert_whole(dark_page, widths=(DESK, TABLET, TELEPHONE))
    dark_page.goto("/parts/pairings/quick/")
    expect(dark_page.locator(".where").first).to_be_visible()
    assert_whole(dark_page, widths=(DESK, TABLET, TELEPHONE))


@pytest.mark.parametrize("url", ["/parts/cases/add/", "/shop/", "/parts/movements/", "/past/"])
def test_forms_and_lists(dark_page, late_job, url):
    assert dark_page.goto(url).status == 200
    assert_whole(dark_page)


def test_header_content_and_foot_begin_and_end_together(page, late_job):
    page.set_viewport_size({"width": 1920, "height": 1080})
    page.goto("/")
    boxes = [page.locator(part).bounding_box() for part in (".brand", "#content h1", ".page-foot p")]
    assert len({box["x"] for box in boxes}) == 1
    lines = page.locator(".bench-jobs").first.bounding_box()
    assert lines["x"] + lines["width"] == pytest.approx(1920 - boxes[0]["x"], abs=1)


def test_print_stays_light(dark_page, late_job):
    dark_page.goto("/")
    dark_page.emulate_media(media="print", color_scheme="dark")
    assert dark_page.evaluate("getComputedStyle(document.documentElement).color") == "rgb(29, 39, 51)"


def test_a_job_on_paper_shows_its_list_and_thin_lines_and_nothing_to_press(page, late_job):
    page.goto(late_job.get_absolute_url())
    page.emulate_media(media="print")
    expect(page.locator(".page-head")).to_be_hidden()
    expect(page.locator(".page-menu").first).to_be_hidden()
    assert not [button for button in page.locator("main button:not(.tick), main .button").all() if button.is_visible()]
    page.goto(f"/parts/pairings/{late_job.options.get().pairing_id}/")
    effects = "all => [...new Set(all.map(one => getComputedStyle(one).vectorEffect))]"
    assert page.locator("svg.drawing .edge").evaluate_all(effects) == ["non-scaling-stroke"]


def test_no_answer_from_the_workshop_is_said_and_taken_back(page, live_server, db):
    page.goto("/jobs/log/")
    said = page.get_by_text("No answer from the workshop.")
    expect(said).to_be_hidden()
    page.route("**/jobs/log/draft/", lambda route: route.abort())
    page.get_by_label("Serial number").fill("A 1234")
    expect(said).to_be_visible()
    assert_whole(page, widths=(DESK, TABLET, TELEPHONE))
    page.unroute("**/jobs/log/draft/")
    page.get_by_label("Serial number").fill("A 12345")
    expect(said).to_be_hidden()
