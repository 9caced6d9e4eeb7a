"""The fit check in a real browser: a number is changed, the verdict changes, nothing is stored until it is kept."""

import pytest
from playwright.sync_api import expect

from parts.models import Crown, Pairing
from parts.models.pairing import PARTS
from tests.browser.conftest import both_widths
from tests.browser.faults import assert_no_serious_faults, assert_whole
from tests.browser.steps import choose, unpick
from tests.factories import (
    CaseFactory,
    CaseFamilyFactory,
    DialFactory,
    HandSetFactory,
    MovementFactory,
    PairingFactory,
)


@pytest.fixture
def pairing(live_server, db):
    return PairingFactory(
        name="Grey one", dial=DialFactory(name="grey", dated=True), movement=MovementFactory(name="plain", dated=True)
    )


def banner(page):
    return page.locator(".verdict-banner")


def press_number(page, part, words):
    """Press a number in the list of all; its field, which has the focus then."""
    if not page.locator(f"#numbers-{part}").is_visible():
        page.get_by_text("All numbers", exact=True).click()
    page.locator(f"#numbers-{part} > summary").click()
    page.get_by_role("link", name=f"{words}:").click()
    field = page.get_by_label(words, exact=True)
    expect(field).to_be_focused()
    return field


def choose_spacer(page, where):
    if not page.get_by_label("Spacer", exact=True).is_visible():
        page.get_by_text("Spacer, single hands").click()
    page.get_by_label("Spacer", exact=True).select_option(where)


def test_a_changed_number_changes_the_verdict_in_place(page, pairing):
    page.goto(f"/parts/pairings/{pairing.pk}/")
    expect(banner(page)).to_contain_text("Fits with work")
    assert_no_serious_faults(page)
    depth = press_number(page, "case", "case back depth")
    depth.fill("3,70 ±0.02")
    expect(banner(page)).to_contain_text("Does not fit")
    expect(page.locator("#check-back-gap")).to_contain_text("The case back will not close")
    depth.fill("")
    expect(banner(page)).to_contain_text("Fits with work")
    assert Pairing.objects.get().what_if == {}


def test_the_whole_check_goes_by_keyboard(page, pairing):
    page.goto("/parts/pairings/new/")
    for name in PARTS:
        choose(page, name, getattr(pairing, name).name)
    page.get_by_role("button", name="Check").focus()
    page.keyboard.press("Enter")
    expect(banner(page)).to_contain_text("Fits with work")
    page.get_by_label("Name", exact=True).fill("By keyboard")
    with page.expect_response("**/draft/**"):
        page.keyboard.press("Enter")
    page.get_by_role("button", name="Save").focus()
    page.keyboard.press("Enter")
    expect(page.get_by_role("status").first).to_contain_text(
        "By keyboard is saved. Next: design the holder ring, add it to a job, or print it."
    )
    assert Pairing.objects.filter(name="By keyboard").count() == 1


def test_nothing_is_cut_off_and_every_page_is_free_of_faults(page, pairing):
    other = PairingFactory(name="Other")
    addresses = ["", "new/", "upload/", f"compare/?pairing={pairing.pk}&pairing={other.pk}", f"{pairing.pk}/"]
    for address in addresses:
        page.goto(f"/parts/pairings/{address}")
        assert_whole(page)


def test_a_telephone_shows_each_check_whole(page, pairing):
    page.set_viewport_size({"width": 390, "height": 844})
    for address in ("", f"{pairing.pk}/"):
        page.goto(f"/parts/pairings/{address}")
        assert page.evaluate("document.documentElement.scrollWidth <= window.innerWidth"), address
    words = [cell.bounding_box() for cell in page.locator(".check-words").all()]
    numbers = [cell.bounding_box() for cell in page.locator(".check-number").all()]
    assert words
    assert all(box["width"] > 300 for box in words)
    assert all(below["y"] >= above["y"] + above["height"] for above, below in zip(words, numbers, strict=True) if below)


@both_widths
def test_a_number_that_cannot_be_read_says_so_beside_its_field(page, pairing):
    page.goto(f"/parts/pairings/{pairing.pk}/")
    depth = press_number(page, "case", "case back depth")
    depth.fill("zwölf")
    fault = page.locator("[id='what-if:case.back_depth-fault']")
    expect(fault).to_contain_text("“zwölf” is not a number")
    expect(depth).to_be_focused()
    expect(depth).to_have_value("zwölf")
    expect(page.locator("#stuck")).to_be_in_viewport()
    depth.fill("")
    expect(fault).to_be_hidden()


@both_widths
def test_answers_go_on_after_keeping_was_refused_for_want_of_a_name(page, pairing):
    page.goto(f"/parts/pairings/new/?case={pairing.case_id}&movement={pairing.movement_id}")
    page.get_by_role("button", name="Save", exact=True).click()
    expect(page.get_by_label("Name")).to_be_focused()
    expect(page.get_by_text("Give the fit check a name to find it by.")).to_be_in_viewport()
    press_number(page, "case", "case bore diameter").fill("2")
    expect(banner(page)).to_contain_text("Does not fit")


def test_saving_waits_for_the_answer_to_the_change_before_it(page, pairing):
    """Overtaken, that answer would store a draft of what is saved by then."""
    held, saved = [], []

    def hold(route):
        if "hx-request" in route.request.headers:
            held.append(route)
        else:
            saved.append(route.request.url)
            route.continue_()

    page.goto(f"/parts/pairings/new/?case={pairing.case_id}&movement={pairing.movement_id}")
    page.get_by_label("Name").fill("Two at once")
    page.route("**/draft/**", hold)
    page.get_by_role("button", name="Save", exact=True).click()
    expect(page.get_by_label("Name")).to_have_value("Two at once")
    page.wait_for_timeout(300)
    assert (len(held), saved) == (1, [])
    held[0].continue_()
    expect(page.get_by_role("heading", name="Two at once")).to_be_visible()
    assert not Pairing.objects.drafts().exists()


def test_a_change_without_an_answer_is_told_and_the_next_answer_clears_it(page, pairing):
    page.goto(f"/parts/pairings/{pairing.pk}/")
    page.context.set_offline(True)
    choose_spacer(page, "rear")
    expect(page.get_by_role("alert")).to_contain_text("Your last change has not been checked yet")
    page.context.set_offline(False)
    choose_spacer(page, "front")
    expect(page.get_by_role("alert")).to_be_hidden()


@both_widths
def test_what_to_measure_next_is_stored_right_there_and_the_verdict_stays_in_sight(page, live_server, db):
    pairing = PairingFactory(case__back_depth=None)
    page.goto(f"/parts/pairings/{pairing.pk}/")
    expect(banner(page)).to_contain_text("Unclear")
    field = page.get_by_label("Case back depth", exact=True)
    field.focus()
    page.keyboard.type("deep")
    page.keyboard.press("Enter")
    expect(page.get_by_text("“deep” is not a number")).to_be_visible()
    field.fill("4,20 ±0.02")
    page.keyboard.press("Enter")
    expect(banner(page)).not_to_contain_text("Unclear")
    expect(banner(page)).to_be_in_viewport()
    pairing.case.refresh_from_db()
    assert (pairing.case.back_depth, pairing.case.back_depth_pm) == (4.20, 0.02)


def test_opening_it_asks_for_the_chance_alone(page, pairing):
    asked = []
    page.on("request", lambda request: asked.append(request.url) if request.method == "POST" else None)
    with page.expect_response("**/chance/"):
        page.goto(f"/parts/pairings/{pairing.pk}/")
    expect(page.locator("#chance")).to_contain_text("cases")
    assert [url.rsplit("/", 2)[1] for url in asked] == ["chance"]


def test_parts_that_the_browser_brings_back_are_checked_again(page, pairing):
    shallow = CaseFactory(name="shallow", back_depth=3.70)
    page.goto(f"/parts/pairings/{pairing.pk}/")
    unpick(page, "case")
    choose(page, "case", "shallow")
    expect(banner(page)).to_contain_text("Does not fit")
    page.goto("/parts/")
    page.go_back()
    expect(page.locator("input[name=case]")).to_have_value(str(shallow.pk))
    expect(banner(page)).to_contain_text("Does not fit")


def test_a_part_is_added_without_leaving_the_page_and_is_chosen_then(page):
    page.goto("/parts/pairings/new/")
    box = page.locator("#id_crown-words")
    box.focus()
    page.get_by_role("link", name="Add a new crown").click()
    dialog = page.get_by_role("dialog")
    expect(dialog.get_by_role("heading", name="Add a crown")).to_be_visible()
    assert_no_serious_faults(page)
    dialog.get_by_role("button", name="Save").last.click()
    expect(dialog.get_by_text("Give it a name.").first).to_be_visible()
    dialog.get_by_label("Name", exact=True).fill("Push 4.5")
    dialog.locator("#new_bore_depth").fill("2.10")
    dialog.get_by_role("button", name="Save").last.click()
    expect(dialog).to_be_hidden()
    expect(page.locator(".picker[data-name=crown] .picked-name")).to_have_text("Push 4.5")
    expect(page.locator("#verdict")).to_contain_text("Still to choose")
    assert Crown.objects.get().bore_depth == 2.10
    assert Pairing.objects.get().crown == Crown.objects.get()


@both_widths
def test_a_number_in_a_drawing_opens_its_slot_beside_it_and_nothing_is_stored(page, pairing):
    page.goto(f"/parts/pairings/{pairing.pk}/")
    page.locator("#section .for-wide").get_by_role("link", name="Back clearance").click()
    slot = page.locator("#what-if")
    expect(slot.get_by_role("heading")).to_contain_text("Back clearance")
    expect(page.locator("#section #what-if")).to_have_count(1)
    depth = slot.get_by_label("case back depth", exact=True)
    depth.fill("3.70")
    expect(page.locator("#what-if-then")).to_contain_text("Does not fit")
    expect(banner(page)).to_contain_text("Does not fit")
    expect(depth).to_be_focused()
    assert_no_serious_faults(page)
    slot.get_by_role("button", name="Put back").click()
    expect(banner(page)).to_contain_text("Fits with work")
    assert Pairing.objects.get().what_if == {}
    assert Pairing.objects.get().case.back_depth == 4.20


def test_the_slot_goes_by_keyboard_and_leads_back_to_its_number(page, pairing):
    page.goto(f"/parts/pairings/{pairing.pk}/")
    link = page.locator("#drawings").get_by_role("link", name="post in dial")
    link.focus()
    page.keyboard.press("Enter")
    fields = page.locator("#what-if input:not([type=hidden])")
    expect(fields.first).to_be_focused()
    page.keyboard.type("1.75")
    page.keyboard.press("Enter")
    expect(fields.nth(1)).to_be_focused()
    expect(banner(page)).to_contain_text("With 1 number changed")
    page.keyboard.press("Escape")
    expect(page.locator("#what-if header")).to_have_count(0)
    expect(page.locator("#drawings").get_by_role("link", name="post in dial")).to_be_focused()
    expect(banner(page)).to_contain_text("With 1 number changed")


def test_the_slot_moves_to_the_check_that_is_pressed_next_and_keeps_what_was_tried(page, pairing):
    page.goto(f"/parts/pairings/{pairing.pk}/?try=back-gap&in=section#what-if")
    page.get_by_label("case back depth", exact=True).fill("4.05")
    expect(banner(page)).to_contain_text("With 1 number changed: case back depth 4.05")
    row = page.locator("#check-stem-length")
    row.get_by_role("link", name="Stem length:").click()
    expect(row.locator("#what-if").get_by_role("heading")).to_contain_text("Stem length")
    row.get_by_label("stem length", exact=True).fill("9.00")
    expect(banner(page)).to_contain_text("With 2 numbers changed")
    expect(page.locator("#what-if")).to_have_count(1)


LETTERS = """() => [...document.querySelectorAll(".drawing text:not(.numeral)")]
    .filter((text) => text.checkVisibility())
    .map((text) => [text.textContent, parseFloat(getComputedStyle(text).fontSize) * text.getScreenCTM().a])
    .filter(([words, height]) => height < 12)"""


def test_no_lettering_of_a_drawing_is_under_12_px_as_shown(page, pairing):
    for width in (390, 700, 820, 1100, 1280, 1920):
        page.set_viewport_size({"width": width, "height": 900})
        page.goto(f"/parts/pairings/{pairing.pk}/")
        assert page.evaluate(LETTERS) == [], width
    page.set_viewport_size({"width": 390, "height": 844})
    expect(page.locator("#section .drawing-section")).to_be_hidden()
    page.get_by_role("link", name="See the whole section").click()
    expect(page.locator("#section .drawing-section")).to_be_visible()
    assert page.evaluate("document.documentElement.scrollWidth <= window.innerWidth")


def test_a_tried_number_is_saved_from_its_slot_and_the_slot_goes_on(page, pairing):
    page.goto(f"/parts/pairings/{pairing.pk}/")
    page.locator("#section a[href^='?try=back-gap']").first.click()
    slot = page.locator("#what-if")
    slot.get_by_label("Back depth").fill("4.21")
    slot.get_by_label("Back depth").press("Enter")
    slot.get_by_role("button", name="Save 4.21 as measured").click()
    expect(slot).to_contain_text("Saved with its part.")
    expect(slot.get_by_label("Back depth")).to_have_value("")
    expect(slot).to_contain_text("4.21 ±0.08 mm")
    pairing.case.refresh_from_db()
    assert pairing.case.back_depth == 4.21
    expect(page.locator("#verdict")).not_to_contain_text("changed")
    slot.get_by_role("button", name="Close").click()
    expect(page.locator("#what-if header")).to_have_count(0)


@pytest.fixture
def with_small_seconds(live_server, db):
    """A watch with small seconds at 6, whose set has no hand for them; two more sets lie in the library."""
    post = {"name": "small seconds", "angle": 90, "radius": 6.5, "diameter": [0.25, 0.01], "height": 1.0}
    hole = {"name": "small seconds", "angle": 180, "radius": 6.5, "hole_diameter": 0.6, "depth": 0.1}
    small = {
        "hole_diameter": 0.24,
        "length": 2.5,
        "tail": 0.8,
        "thickness": 0.1,
        "hub_height": 0.3,
        "hub_diameter": 0.7,
    }
    HandSetFactory(name="Willow, plain", seconds=False)
    HandSetFactory(name="Willow, small at 6", seconds=False, subsidiary={"small seconds": small})
    return PairingFactory(
        name="Small one",
        dial=DialFactory(name="white", subdials=[hole]),
        movement=MovementFactory(name="ticking", subsidiary=[post]),
        hands=HandSetFactory(name="Leaf", seconds=False),
    )


@both_widths
def test_a_small_seconds_hand_is_chosen_from_a_set_of_its_own(page, with_small_seconds):
    page.goto(f"/parts/pairings/{with_small_seconds.pk}/")
    row = page.locator("#check-sub-post")
    expect(row).to_contain_text("Get a hand for the small seconds post, 0.25 mm.")
    page.get_by_text("Spacer, single hands").click()
    choose(page, "small_seconds_hand_from", "Willow")
    assert page.locator(".picker[data-name=small_seconds_hand_from] .picked-name").inner_text() == "Willow, small at 6"
    expect(row).to_contain_text("Small seconds hand on its post")
    expect(row).not_to_contain_text("Get a hand")
    expect(page.locator("#check-sub-gap")).to_contain_text("Small seconds hub to subdial")
    assert_whole(page)
    unpick(page, "small_seconds_hand_from")
    expect(row).to_contain_text("Get a hand for the small seconds post, 0.25 mm.")
    choose(page, "small_seconds_hand_from", "Willow")
    page.get_by_role("button", name="Save the changes").click()
    expect(page.get_by_role("button", name="Save the changes")).to_have_count(0)
    saved = Pairing.objects.get()
    assert (saved.small_seconds_hand_from.name, saved.hands.name) == ("Willow, small at 6", "Leaf")


@both_widths
def test_parts_of_one_family_are_told_apart_by_their_names(page, live_server, db):
    family = CaseFamilyFactory(name="Ladies tank-shaped, two-piece")
    case = CaseFactory(family=family, name="as it came 16.40 × 22.60 mm")
    dial = DialFactory(family=family, name="own dial 15.90 × 22.10 mm")
    page.goto(f"/parts/pairings/{PairingFactory(case=case, dial=dial).pk}/")
    names = page.locator(".strip-part .picked-name:visible")
    assert names.evaluate_all("names => names.filter((e) => e.scrollHeight > e.clientHeight + 1).length") == 0
    assert_whole(page)
