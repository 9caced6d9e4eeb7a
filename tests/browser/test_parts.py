"""Entering parts as a person does it, with errors on the way."""

import re

import pytest
from playwright.sync_api import expect

from parts.library.kinds import KINDS
from parts.models import Case, Dial, HandSet, Movement
from tests.browser.conftest import both_widths
from tests.browser.faults import DESK, TABLET, assert_whole, at_widths
from tests.pages.parts.test_library import FACTORIES

SMALL = """links => links
    .filter(e => e.getBoundingClientRect().height < 44 && !(e.closest('p, td') && e.tagName === 'A'))
    .map(e => e.textContent)"""
"""Of links and buttons the words of those too small for a finger; a link within words or a table may be as they are."""


@both_widths
def test_a_case_is_entered_and_corrected_by_keyboard(page):
    page.goto("/parts/")
    page.get_by_role("link", name="Add a case", exact=True).click()
    assert_whole(page)
    page.get_by_label("Name").fill("36 mm")
    page.get_by_label("Bore diameter", exact=True).fill("27,40 +-0,02")
    page.get_by_label("Back depth", exact=True).fill("48,0x")
    page.keyboard.press("Enter")
    expect(page.get_by_role("alert")).to_contain_text("1 thing to correct")
    depth = page.get_by_label("Back depth", exact=True)
    expect(depth).to_be_focused()
    expect(depth).to_be_in_viewport(ratio=1)
    expect(depth).to_have_attribute("aria-invalid", "true")
    bar = page.locator(".save-bar").bounding_box()
    assert depth.bounding_box()["y"] + depth.bounding_box()["height"] <= bar["y"]
    assert_whole(page)
    page.keyboard.press("Control+a")
    page.keyboard.type("4.80")
    page.keyboard.press("Enter")
    expect(page.get_by_role("heading", name="36 mm")).to_be_visible()
    expect(page.get_by_role("row", name=re.compile("^Bore diameter"))).to_contain_text("27.40 ±0.02 mm")
    expect(page.get_by_role("row", name="Stem axis depth")).to_contain_text("not measured")
    assert_whole(page)
    assert Case.objects.get().back_depth == 4.8


def test_a_dial_gets_more_feet_without_a_new_page(page):
    page.goto("/parts/dials/add/")
    page.get_by_label("Name").fill("white")
    page.get_by_label("All feet are listed").check()
    page.locator("#id_feet-0-angle").fill("55")
    page.evaluate("window.stayed = true")
    page.get_by_role("button", name="Add a foot").click()
    expect(page.locator("#id_feet-2-angle")).to_be_focused()
    page.keyboard.type("180")
    assert page.evaluate("window.stayed")
    assert page.locator("#id_feet-0-angle").input_value() == "55"
    page.locator("#id_furniture-0-name").fill("markers")
    page.locator("#id_furniture-0-height").fill("0,3")
    page.get_by_role("button", name="Save").click()
    expect(page.get_by_role("heading", name="white")).to_be_visible()
    dial = Dial.objects.get()
    assert [foot.angle for foot in dial.feet.all()] == [55.0, 180.0]
    assert dial.furniture.get().height == 0.3


def test_a_movement_and_hands_are_entered(page):
    page.goto("/parts/movements/add/")
    assert_whole(page)
    page.get_by_label("Name").fill("thin")
    page.get_by_label("Fit diameter", exact=True).fill("11 1/2'''")
    page.get_by_label("Hour post height", exact=True).fill("1.30")
    page.get_by_role("button", name="Save").click()
    expect(page.get_by_role("row", name="Fit diameter")).to_contain_text("25.942 mm")
    page.goto("/parts/hand-sets/add/")
    assert_whole(page)
    page.get_by_label("Name").fill("leaf")
    page.get_by_role("group", name="Minute hand").get_by_label("Length", exact=True).fill("11.5")
    page.get_by_label("Has a seconds hand").uncheck()
    page.get_by_role("button", name="Save").click()
    expect(page.get_by_role("heading", name="leaf")).to_be_visible()
    assert Movement.objects.get().post_hour_height == 1.3
    assert HandSet.objects.get().hands.get(role="minute").length == 11.5


@pytest.mark.parametrize("slug", KINDS)
def test_every_page_of_a_kind_fits_and_can_be_reached(page, slug):
    record = FACTORIES[slug]()
    for address in ("", f"{record.pk}/", f"{record.pk}/edit/", "add/", "import/"):
        page.goto(f"/parts/{slug}/{address}")
        assert_whole(page)
        for width in at_widths(page, (DESK, TABLET)):
            small = page.locator("main").locator("a:visible, button:visible").evaluate_all(SMALL)
            assert not small, (address, width)


def test_a_file_is_checked_before_it_is_imported(page):
    def give(text):
        page.get_by_label("CSV file").set_input_files(
            {"name": "cases.csv", "mimeType": "text/csv", "buffer": text.encode()}
        )
        page.get_by_role("button", name="Check the file").click()

    page.goto("/parts/cases/")
    page.get_by_role("link", name="Import CSV").click()
    give("name,bore diameter\none,27\ntwo,wide\n")
    expect(page.get_by_role("row", name="wide")).to_contain_text("not a number")
    assert_whole(page)
    page.get_by_role("link", name="Choose the corrected file").click()
    give("name,bore diameter\none,27\ntwo,28\n")
    assert_whole(page)
    page.get_by_role("button", name="Import all 2").click()
    expect(page.get_by_role("status")).to_contain_text("2 cases imported")
    assert Case.objects.count() == 2
