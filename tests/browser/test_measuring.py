"""How to take a number, and measuring it on its part's page, as a person does it."""

import pytest
from playwright.sync_api import expect

from parts.models import Case
from tests.browser.conftest import both_widths
from tests.browser.faults import assert_whole
from tests.factories import CaseFactory

pytestmark = pytest.mark.django_db


@both_widths
def test_a_key_opens_the_card_beside_its_field_and_tab_stops_at_the_numbers(page):
    page.goto("/parts/cases/add/")
    depth = page.get_by_label("Stem axis depth", exact=True)
    depth.focus()
    page.keyboard.press("?")
    card = page.locator("details[data-how-of='id_stem_axis_depth']")
    expect(card).to_contain_text("Slide a snug pin through the tube")
    expect(card).to_contain_text("calliper ±0.07 mm")
    expect(depth).to_be_focused()
    expect(depth).to_have_value("")
    assert_whole(page)
    page.keyboard.press("Escape")
    expect(card.locator(".card")).to_be_hidden()
    page.keyboard.type("2.10")
    page.keyboard.press("Tab")
    expect(page.get_by_label("Back depth", exact=True)).to_be_focused()


def test_a_finger_opens_the_card_of_the_quick_check(page):
    page.goto("/parts/pairings/quick/")
    page.locator("#quick-list summary").filter(has_text="How to take it: Bore diameter").click()
    expect(page.locator("#quick-list .card")).to_contain_text("below the thread of the back")
    assert_whole(page)
    page.get_by_role("link", name="how to take it", exact=True).click()
    expect(page.get_by_role("heading", name="How to measure")).to_be_visible()
    assert_whole(page)
    page.locator(".stations").get_by_role("link", name="Case stem axis depth").click()
    expect(
        page.get_by_text("Slide a snug pin through the tube until it stands 1 to 3 mm inside the case.", exact=True)
    ).to_be_in_viewport()


@both_widths
def test_a_number_is_measured_on_the_parts_page_by_keyboard(page):
    case = CaseFactory(back_depth=None)
    page.goto(f"/parts/cases/{case.pk}/")
    assert_whole(page)
    page.evaluate("window.stayed = true")
    link = page.get_by_role("link", name="Measure back depth, now")
    link.focus()
    page.keyboard.press("Enter")
    field = page.get_by_label("Back depth")
    expect(field).to_be_focused()
    page.keyboard.type("4,2x")
    page.keyboard.press("Enter")
    expect(page.locator("#here-told")).to_contain_text("is not a number")
    expect(field).to_be_focused()
    expect(field).to_have_value("4,2x")
    assert_whole(page)
    page.keyboard.press("?")
    expect(page.locator(".measuring-here .card")).to_contain_text("Lay the back upside down")
    page.keyboard.press("Escape")
    page.keyboard.press("Control+a")
    page.keyboard.type("4.20 4.22 4.21")
    page.keyboard.press("Enter")
    expect(link).to_contain_text("4.21")
    expect(link).to_be_focused()
    assert page.evaluate("window.stayed")
    assert Case.objects.get().taken["back_depth"]["readings"] == [4.2, 4.22, 4.21]
    page.keyboard.press("Enter")
    expect(field).to_be_focused()
    page.keyboard.press("Escape")
    expect(link).to_be_focused()
    assert_whole(page)
