"""What would fit?, in a real browser."""

import pytest
from playwright.sync_api import expect

from tests.browser.conftest import both_widths
from tests.browser.faults import assert_no_serious_faults
from tests.browser.steps import choose
from tests.factories import CaseFactory, MovementFactory, PairingFactory

HERE = "/parts/goes-in/"


@pytest.fixture
def whole(transactional_db):
    MovementFactory(name="wide one", overall_diameter=40.0)
    return PairingFactory(case=CaseFactory(stem_axis_depth=None))


def test_a_call_from_a_customer(page, live_server, whole):
    """A case is chosen, its stem axis depth is not known; the answer says which would do, then it is read out."""
    page.goto(live_server.url + HERE)
    expect(page.locator("#ranking")).to_contain_text("Choose a case and its dial")
    choose(page, "case", whole.case.name)
    choose(page, "dial", whole.dial.name)
    first = page.locator(".line").first
    expect(first).to_contain_text("Would fit if the case stem axis depth is between")
    page.get_by_text("Numbers of the case").click()
    page.get_by_label("case stem axis depth").fill("2.40")
    expect(first).to_contain_text("Fits")
    assert "what-if%3Acase.stem_axis_depth=2.40" in page.url
    assert "what-if%3Acase.bore_diameter" not in page.url
    assert_no_serious_faults(page)
    page.reload()
    expect(page.get_by_label("case stem axis depth")).to_have_value("2.40")
    expect(page.locator(".line").first).to_contain_text("Fits")


@both_widths
def test_pictures_open_below_a_line_by_keyboard(page, live_server, whole):
    page.goto(f"{live_server.url}{HERE}?case={whole.case_id}&dial={whole.dial_id}&what-if:case.stem_axis_depth=2.4")
    line = page.locator(".line").first
    line.get_by_text("Pictures").focus()
    page.keyboard.press("Enter")
    expect(line.get_by_role("heading", name="Dial from the front")).to_be_visible()
    assert page.evaluate("document.documentElement.scrollWidth") <= page.viewport_size["width"]
    line.get_by_role("link", name="Fit check").click()
    expect(page.get_by_text("With 1 number changed: case stem axis depth 2.4")).to_be_visible()


def test_filters_narrow_the_ranking(page, live_server, whole):
    page.goto(f"{live_server.url}{HERE}?case={whole.case_id}")
    page.get_by_text("Show only some of the movements").click()
    page.get_by_label("Name or notes").fill("wide")
    expect(page.locator(".line")).to_have_count(1)
    page.get_by_label("Cell lasts at least").fill("a year")
    expect(page.locator("#ranking")).to_contain_text("“a year” is not a number")
    page.get_by_label("Cell lasts at least").fill("")
    expect(page.locator(".line")).to_have_count(1)
    page.get_by_role("link", name="Clear").click()
    expect(page.locator(".line")).to_have_count(0)


def test_from_the_table_to_a_fit_check(page, live_server, whole):
    page.goto(f"{live_server.url}{HERE}cases/")
    assert_no_serious_faults(page)
    expect(page.get_by_role("columnheader", name="wide one")).to_be_visible()
    page.get_by_role("row", name=str(whole.case)).get_by_role("link", name="Does not fit").click()
    expect(page.get_by_role("heading", name="New fit check")).to_be_visible()
    expect(page.locator("#verdict")).to_contain_text("Does not fit")
