"""The quick check as it is walked: by keyboard, on a tablet, from an empty bench to parts of the library."""

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
    expect(page.locator("[data-state=here]").first).to_be_visible()
    choose(page, "movement", "Wick")
    choose(page, "hands", "Leaf")
    type_in(page, "case.crystal_gap_centre", "2.95 ±0.03")
    expect(page.locator("#quick-answer")).to_contain_text("so far")
    expect(page.locator("#quick-answer .drawing-section")).to_be_visible()
    expect(page.locator("#chance")).to_contain_text("of 100 cases")
    assert len({url.partition("#")[0] for url in loads}) <= 3
    assert_whole(page, widths=(DESK, TABLET, TELEPHONE))
    page.reload()
    expect(field(page, "case.back_depth")).to_have_value("5.40 5.41 5.40")
    page.get_by_role("link", name="Keep as parts").click()
    page.get_by_label("Or a new case family").fill("Stillwater 36")
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
