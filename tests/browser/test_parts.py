"""Entering parts as a person does it, with errors on the way."""

import re

import pytest
from playwright.sync_api import expect

from parts.library.kinds import KINDS
from parts.models import Case, Dial, HandSet, Movement
from tests.browser.conftest import both_widths
from tests.browser.faults import DESK, TABLET, assert_whole, at_widths
from tests.browser.steps import follow
from tests.factories import MovementFactory
from tests.pages.parts.test_library import FACTORIES

SMALL = """links => links
    .filter(e => e.getBoundingClientRect().height < 44 && !(e.closest('p, td') && e.tagName === 'A'))
    .map(e => e.textContent)"""
"""Of links and buttons the words of those too small for a finger; a link within words or a table may be as they are."""


@both_widths
def test_a_case_is_entered_and_corrected_by_keyboard(page):
    page.goto("/parts/")
    follow(page.get_by_role("link", name="Add a case", exact=True))
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
    expect(page.get_by_role("row", name="Fit diameter")).to_contain_text("25.942 ±0.03 mm")
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


def test_a_case_is_entered_by_keyboard_alone_number_after_number(page):
    numbers = {
        "bore_diameter": "27.40/27.42",
        "dial_seat_diameter": "28.50",
        "dial_opening_diameter": "26.80",
        "seat_wall": "",
        "stem_axis_depth": "2.00 ±0.02",
        "back_depth": "4.80 4.82 4.81",
        "crystal_gap_centre": "2.35",
        "crystal_gap_edge": "",
        "crystal_edge_radius": "",
        "stem_angle": "90",
        "crown_seat_radius": "",
        "tube_bore_diameter": "0.88<0.89",
        "tube_outer_diameter": "2.50",
    }
    page.goto("/parts/cases/add/")
    expect(page.get_by_label("Name", exact=True)).to_be_focused()
    page.keyboard.type("36 mm")
    for _ in range(4):  # the side it is loaded from, the button for what that needs, the fold of outlines
        page.keyboard.press("Tab")
    for name, text in numbers.items():
        expect(page.locator(f"#id_{name}")).to_be_focused()
        page.keyboard.type(text)
        page.keyboard.press("Tab")
    page.keyboard.press("Tab")  # the fold of what the case under pressure needs
    page.keyboard.press("Enter")
    expect(page.get_by_role("heading", name="36 mm")).to_be_visible()
    expect(page.get_by_role("row", name=re.compile("^Bore diameter"))).to_contain_text("0.02 oval")
    assert_whole(page)
    case = Case.objects.get()
    assert (case.bore_diameter, case.back_depth, case.tube_bore_diameter) == (27.4, 4.81, 0.885)
    assert (case.stem_axis_depth_pm, case.stem_angle_pm, case.tube_outer_diameter_pm) == (0.02, 2.0, 0.03)


def test_the_sources_and_what_is_in_hand_are_reached_by_keyboard(page):
    page.goto("/parts/cases/add/")
    page.get_by_label("Name", exact=True).fill("a")
    page.locator("#id_bore_diameter").fill("27.40")
    page.get_by_label("Notes").focus()
    page.keyboard.press("Tab")
    expect(page.get_by_text("Where these numbers come from")).to_be_focused()
    page.keyboard.press("Enter")
    page.keyboard.press("Tab")
    expect(page.get_by_label("Where the bore diameter comes from")).to_be_focused()
    page.keyboard.type("maker")
    expect(page.locator("#id_bore_diameter_told")).to_have_text("27.40 ±0.02 mm, maker's sheet")
    page.get_by_label("In hand").focus()
    page.keyboard.type("Micro")
    expect(page.locator("#id_tube_outer_diameter_told")).to_have_text("micrometer ±0.01 mm")
    assert_whole(page)
    page.get_by_role("button", name="Save").click()
    expect(page.get_by_role("heading", name="a", exact=True)).to_be_visible()
    assert (Case.objects.get().bore_diameter_source, Case.objects.get().bore_diameter_pm) == ("s", 0.02)


def test_a_doubt_and_a_contradiction_show_while_typing(page):
    page.goto("/parts/cases/add/")
    told = page.locator("#id_back_depth_told")
    expect(told).to_have_text("calliper ±0.08 mm")
    page.locator("#id_back_depth").press_sequentially("12")
    expect(told).to_contain_text("Look again: 2.50 to 9.00 mm is usual.")
    expect(page.locator("#told-in-all")).to_have_text("1 to look at again")
    assert_whole(page)
    page.locator("#id_dial_seat_diameter").press_sequentially("27.00")
    page.locator("#id_dial_opening_diameter").press_sequentially("28.00")
    seat = page.locator("#id_dial_seat_diameter_told")
    expect(seat).to_contain_text("the dial would fall through the opening")
    page.locator("#id_dial_opening_diameter").fill("26.00")
    expect(seat).to_have_text("27.00 ±0.05 mm, calliper")
    page.get_by_label("Name", exact=True).fill("a")
    page.get_by_role("button", name="Save").click()
    expect(page.get_by_role("heading", name="a", exact=True)).to_be_visible()
    assert Case.objects.get().back_depth == 12.0


def test_the_page_of_the_instruments_fits(page):
    page.goto("/parts/instruments/")
    assert_whole(page)
    page.locator("#id_instrument-0-limit_mm").fill("0,04")
    page.get_by_role("button", name="Save instruments").click()
    expect(page.get_by_role("status")).to_contain_text("Instruments saved.")
    page.goto("/parts/cases/add/")
    expect(page.get_by_label("In hand")).to_contain_text("Calliper ±0.04 mm")


def test_a_size_that_another_shape_has_not_stays_in_sight_until_it_is_cleared(page):
    """Hidden, it would be refused with no field left to clear it in."""
    page.goto("/parts/movements/add/")
    page.get_by_label("Name", exact=True).fill("oval")
    page.locator("details:has([name=outline_shape]) > summary").click()
    shape = page.locator("[name=outline_shape]")
    shape.select_option("rectangle")
    for name, size in (("width", "11.50 ±0.03"), ("height", "14"), ("corner", "0.5")):
        page.locator(f"[name=outline_{name}]").fill(size)
    wide = page.locator("[name=outline_width]")
    assert wide.evaluate("e => e.scrollWidth <= e.clientWidth")
    shape.select_option("oval")
    corner = page.locator("[name=outline_corner]")
    expect(corner).to_be_visible()
    page.get_by_role("button", name="Save", exact=True).click()
    expect(page.get_by_role("alert")).to_contain_text("an oval has no corner radius. Clear it.")
    corner.fill("")
    expect(corner).to_be_hidden()
    assert_whole(page)
    page.get_by_role("button", name="Save", exact=True).click()
    expect(page.get_by_role("heading", name="oval")).to_be_visible()
    assert Movement.objects.get().outline == {"shape": "oval", "width": [11.5, 0.03], "height": 14.0}


def test_a_shaped_movement_fits_on_a_telephone(page):
    """Its name and its sizes beside each other, on its page and in the list."""
    outline = {"shape": "rectangle", "width": [13.0, 0.03], "height": [15.2, 0.03], "corner": [1.0, 0.2]}
    numbers = {"outline": outline, "fit_outline": outline, "fit_diameter": None, "overall_diameter": None}
    movement = MovementFactory(name="baguette", **numbers)
    page.set_viewport_size({"width": 390, "height": 844})
    for address in ("/parts/movements/", f"/parts/movements/{movement.pk}/"):
        page.goto(address)
        expect(page.get_by_text("13.00 ").first).to_be_visible()
        assert page.evaluate("document.documentElement.scrollWidth <= document.documentElement.clientWidth"), address
    words, size = page.get_by_role("row", name=re.compile("^Fit outline")).locator("th, td").all()
    assert words.evaluate("e => e.scrollWidth <= e.clientWidth")
    assert words.bounding_box()["x"] + words.bounding_box()["width"] <= size.bounding_box()["x"]
