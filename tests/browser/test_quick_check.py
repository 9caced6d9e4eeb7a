"""The quick check as it is walked: by keyboard, on a tablet, from an empty bench to parts of the library."""

import re

from playwright.sync_api import expect

from parts.models import Pairing
from tests.browser.conftest import both_widths
from tests.browser.faults import DESK, TABLET, TELEPHONE, assert_whole
from tests.browser.steps import choose
from tests.factories import HandSetFactory, MovementFactory


def field(page, path):
    return page.locator(f"[id='n:{path}']")


def type_in(page, path, text):
    field(page, path).focus()
    page.keyboard.type(text)
    page.keyboard.press("Enter")
    expect(page.locator(f"[id='told-n:{path}']")).to_contain_text("±")
    expect(page.locator(".htmx-request")).to_have_count(0)


def pick(page, path, word):
    page.locator(f"input[name='p:{path}'][value='{word}']").focus()
    page.keyboard.press("Space")
    expect(page.locator(f"input[name='p:{path}'][value='{word}']")).to_be_checked()


@both_widths
def test_from_an_empty_bench_to_a_verdict_by_keyboard_alone(page):
    MovementFactory(name="Wick three-hand")
    HandSetFactory(name="Leaf")
    loads = []
    page.on("framenavigated", lambda frame: loads.append(frame.url))
    page.goto("/")
    page.get_by_role("link", name="Quick check", exact=True).last.press("Enter")
    expect(page.get_by_text("No verdict yet")).to_be_visible()
    for path, text in (
        ("case.bore_diameter", "29.6"),
        ("case.dial_opening_diameter", "27.4"),
        ("case.stem_axis_depth", "2.15 ±0.02"),
        ("case.back_depth", "5.40 5.41 5.40"),
        ("case.stem_angle", "90"),
    ):
        type_in(page, path, text)
    pick(page, "dial.own_case", "yes")
    pick(page, "dial.fixing", "pads")
    pick(page, "dial.window", "none")
    type_in(page, "dial.thickness", "0.40 ±0.01")
    type_in(page, "dial.centre_hole_diameter", "1.60")
    expect(field(page, "case.crystal_gap_centre")).to_be_focused()
    expect(page.get_by_role("heading", name="The movement")).to_be_visible()
    choose(page, "movement", "Wick")
    choose(page, "hands", "Leaf")
    type_in(page, "case.crystal_gap_centre", "2.95 ±0.03")
    expect(page.locator("#quick-answer")).to_contain_text("so far")
    expect(page.locator("#quick-answer .drawing-section")).to_be_visible()
    expect(page.locator("[id='told-n:case.crystal_gap_centre']")).to_contain_text("2.95")
    expect(page.locator("#chance")).to_contain_text("of 100 cases")
    expect(page.locator(".htmx-request")).to_have_count(0)
    assert len({url.partition("#")[0] for url in loads}) <= 3
    assert_whole(page, widths=(DESK, TABLET, TELEPHONE))
    page.reload()
    expect(field(page, "case.back_depth")).to_have_value("5.40 5.41 5.40")
    page.get_by_role("link", name="Keep as parts").click()
    page.get_by_label("Case family").fill("Stillwater 36")
    page.get_by_label("Case", exact=True).fill("brushed")
    page.get_by_label("Dial", exact=True).fill("grey")
    page.get_by_label("Fit check", exact=True).fill("Grey one")
    assert_whole(page)
    page.get_by_role("button", name="Save").click()
    expect(page.get_by_role("heading", name="Grey one")).to_be_visible()
    assert Pairing.objects.get(name="Grey one").case.family.name == "Stillwater 36"


def test_what_is_typed_while_an_answer_comes_stays(page):
    page.goto("/parts/pairings/quick/")
    slow = {"offline": False, "latency": 600, "downloadThroughput": -1, "uploadThroughput": -1}
    page.context.new_cdp_session(page).send("Network.emulateNetworkConditions", slow)
    page.locator("input[name='p:dial.window'][value='is']").focus()
    page.keyboard.press("Space")
    field(page, "case.bore_diameter").focus()
    page.keyboard.type("29.")
    expect(field(page, "dial.window.angle")).to_be_visible()
    expect(field(page, "case.bore_diameter")).to_have_value("29.")
    expect(field(page, "case.bore_diameter")).to_be_focused()
    page.keyboard.type("6")
    expect(field(page, "case.bore_diameter")).to_have_value("29.6")


def test_the_same_number_typed_again_is_a_reading_with_what_is_in_hand_now(page):
    page.goto("/parts/pairings/quick/")
    type_in(page, "case.back_depth", "5.40")
    page.get_by_label("In hand").select_option(label="Depth gauge ±0.02 mm")
    expect(page.locator("[id='told-n:case.back_depth']")).to_contain_text("5.40 ±0.08 mm, calliper")
    field(page, "case.back_depth").select_text()
    page.keyboard.type("5.40")
    page.keyboard.press("Enter")
    expect(page.locator("[id='told-n:case.back_depth']")).to_contain_text("depth gauge")


def test_two_windows_on_one_watch_lose_nothing(page):
    page.goto("/parts/pairings/quick/")
    type_in(page, "case.back_depth", "5.40")
    expect(page).to_have_url(re.compile(r"quick/.+"))
    other = page.context.new_page()
    other.goto(page.url)
    type_in(page, "case.bore_diameter", "29.6")
    type_in(other, "case.stem_axis_depth", "2.15")
    expect(field(other, "case.bore_diameter")).to_have_value("29.6")
    other.close()
    page.reload()
    expect(field(page, "case.bore_diameter")).to_have_value("29.6")
    expect(field(page, "case.stem_axis_depth")).to_have_value("2.15")


def test_the_watchs_own_seconds_hand_opens_its_numbers_and_what_is_open_stays_open(page):
    page.goto("/parts/pairings/quick/")
    page.locator("#fold-hour-hand summary").first.click()
    pick(page, "hands.seconds", "is")
    expect(field(page, "hands.seconds.length")).to_be_visible()
    expect(field(page, "hands.hour.length")).to_be_visible()


def test_on_a_telephone_the_verdict_stays_in_sight(page):
    page.set_viewport_size(dict(zip(("width", "height"), TELEPHONE, strict=True)))
    page.goto("/parts/pairings/quick/")
    expect(page.locator("#quick-bar")).to_be_hidden()
    pick(page, "dial.own_case", "yes")
    type_in(page, "case.bore_diameter", "29.6")
    expect(page.locator("#count-case")).to_have_text("1 of 5")
    field(page, "dial.thickness").scroll_into_view_if_needed()
    expect(page.locator("#quick-bar")).to_be_in_viewport()


def test_the_next_numbers_button_puts_the_cursor_into_its_field(page):
    page.goto("/parts/pairings/quick/")
    type_in(page, "case.bore_diameter", "29.6")
    expect(page.get_by_role("heading", name="B, dial seat")).to_be_visible()
    page.get_by_role("link", name="Type it").click()
    expect(field(page, "case.dial_seat_diameter")).to_be_focused()


def test_an_empty_bench_on_every_width(page):
    page.goto("/")
    expect(page.get_by_role("heading", name="A clear bench")).to_be_visible()
    assert_whole(page, widths=(DESK, TABLET, TELEPHONE))
    page.get_by_role("button", name="Try an example").click()
    expect(page.get_by_role("heading", name="Bramblegate 36 to quartz with date, example")).to_be_visible()


@both_widths
def test_a_rectangular_watch_with_small_seconds_is_asked_for_by_what_it_is(page):
    MovementFactory(name="Wick three-hand", overall_diameter=20.0, fit_diameter=19.8)
    page.goto("/parts/pairings/quick/")
    pick(page, "case.shape", "rectangle")
    expect(field(page, "case.bore_outline.width")).to_be_visible()
    expect(field(page, "case.bore_diameter")).to_have_count(0)
    expect(page.get_by_role("heading", name="A, bore, width")).to_be_visible()
    type_in(page, "case.bore_outline.width", "22")
    expect(field(page, "case.bore_outline.height")).to_be_focused()
    type_in(page, "case.bore_outline.height", "30.00")
    type_in(page, "case.bore_outline.corner", "2")
    pick(page, "dial.own_case", "yes")
    pick(page, "dial.subdials", "is")
    expect(field(page, "dial.subdials[0].angle")).to_be_visible()
    expect(page.locator("#fold-small-seconds-hand")).to_be_visible()
    expect(page.locator(".where-front")).to_be_visible()
    choose(page, "movement", "Wick")
    expect(page.locator("#quick-answer")).to_contain_text("so far")
    assert_whole(page, widths=(DESK, TABLET, TELEPHONE))
    page.reload()
    expect(field(page, "case.bore_outline.width")).to_have_value("22")
