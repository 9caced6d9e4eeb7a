"""Holder ring in a real browser: a changed number redraws, the actual mesh is drawn and turns, a revision is kept."""

import pytest
from playwright.sync_api import expect

from parts.models import HolderDesign
from tests.browser.faults import assert_no_serious_faults, assert_whole
from tests.factories import CaseFactory, DialFactory, MovementFactory, PairingFactory


@pytest.fixture
def pairing(live_server, db):
    movement = MovementFactory(name="slim", fit_diameter=22.0, overall_diameter=22.0, stem_axis_depth=1.6)
    case = CaseFactory(name="one", stem_axis_depth=2.0)
    return PairingFactory(name="Grey one", case=case, dial=DialFactory(name="grey"), movement=movement)


def test_a_ring_is_changed_turned_kept_and_free_of_faults(page, pairing):
    page.goto(f"/parts/pairings/{pairing.pk}/")
    page.get_by_role("link", name="Holder and spacer").click()
    page.get_by_role("link", name="Design a holder ring").click()
    page.wait_for_load_state()
    expect(page.locator("#holder-answer")).to_contain_text("outside ⌀26.00")
    page.get_by_label("Outside diameter").fill("25,90")
    expect(page.locator("#holder-answer")).to_contain_text("outside ⌀25.90")
    page.get_by_label("Inside diameter").fill("27")
    expect(page.get_by_role("alert")).to_contain_text("below the outside diameter")
    page.get_by_label("Inside diameter").fill("")
    page.get_by_label("Inside diameter").blur()
    expect(page.locator("#holder-answer")).to_contain_text("outside ⌀25.90")
    expect(page.locator(".htmx-request")).to_have_count(0)
    page.get_by_text("Making", exact=True).click()
    page.get_by_label("Layer height").fill("0.2")
    expect(page.get_by_label("Height", exact=True)).to_have_attribute("placeholder", "3.60")
    page.get_by_label("Layer height").fill("")
    expect(page.get_by_label("Height", exact=True)).to_have_attribute("placeholder", "3.65")
    assert_whole(page)
    page.get_by_role("button", name="Save as revision 1").click()
    expect(page.get_by_role("status").first).to_contain_text("Saved as revision 1. Next: download a file and print it.")
    assert HolderDesign.objects.get().parameters["outside_diameter"] == 25.9
    assert_no_serious_faults(page)
    for address in ("/parts/holders/", "/parts/holders/prints/"):
        page.goto(address)
        assert_whole(page)


def test_the_piece_can_be_seen_and_turned_or_a_still_picture_stands_there(page, pairing):
    page.goto(f"/parts/holders/new/?pairing={pairing.pk}&kind=ring")
    expect(page.locator("#holder-still svg, #holder-canvas:not([hidden])").first).to_be_attached()
    if not page.evaluate("Boolean(document.createElement('canvas').getContext('webgl'))"):
        expect(page.locator("#holder-still svg")).to_be_visible()
        return
    canvas = page.locator("#holder-canvas")
    expect(canvas).to_be_visible()
    expect(page.locator("#holder-still")).to_be_hidden()
    assert int(canvas.get_attribute("data-drawn")) > 1000
    before = canvas.screenshot()
    canvas.focus()
    page.keyboard.press("ArrowRight")
    expect(canvas).to_have_attribute("data-turn", "0.620")
    assert canvas.screenshot() != before


def test_the_view_is_turned_to_the_dial_cut_and_measured_without_a_new_answer(page, pairing):
    page.goto(f"/parts/holders/new/?pairing={pairing.pk}&kind=ring")
    if not page.evaluate("Boolean(document.createElement('canvas').getContext('webgl'))"):
        assert "12 o'clock" in page.locator("#holder-still").inner_html()
        return
    canvas, over = page.locator("#holder-canvas"), page.locator("#holder-over")
    expect(over).to_have_attribute("data-ghosts", "3")
    page.get_by_label("Show the watch round it").uncheck()
    expect(over).to_have_attribute("data-ghosts", "0")
    page.get_by_role("button", name="Dial side").click()
    asked = []
    page.on("request", lambda request: asked.append(request.url))
    whole = canvas.screenshot()
    page.get_by_label("How far the cut goes in").focus()
    for _ in range(5):
        page.keyboard.press("PageUp")
    assert canvas.screenshot() != whole
    page.get_by_label("Cut", exact=True).select_option(label="from 3 towards 9 o’clock")
    page.get_by_role("button", name="Reset the view").click()
    expect(page.get_by_label("How far the cut goes in")).to_have_value("0")
    page.get_by_role("button", name="Dial side").click()
    frame = canvas.bounding_box()
    reach = page.evaluate("Math.hypot(13, 13, 3.65 / 2)")
    mm = frame["height"] / 2 * 1.1 / reach
    for x, y in ((-9.0, 9.0), (9.0, -9.0)):
        page.mouse.click(frame["x"] + frame["width"] / 2 + x * mm, frame["y"] + frame["height"] / 2 + y * mm)
    distance = page.locator("#holder-distance")
    expect(distance).to_contain_text("in height")
    assert 24.8 < float(distance.inner_text().split()[0]) <= 26.0
    canvas.focus()
    page.keyboard.press("Escape")
    expect(distance).to_have_text("Click two points to measure their distance.")
    page.get_by_role("button", name="Dial side").click()
    canvas.focus()
    for _ in range(30):
        page.keyboard.press("Shift+ArrowUp")
        if distance.inner_text().startswith("First"):
            break
        page.keyboard.press("Enter")
    expect(distance).to_have_text("First point set. Click the second.")
    assert asked == []
    assert_whole(page)


def test_letters_of_the_drawings_can_be_read_on_a_telephone_and_beside_each_other_on_a_desk(page, pairing):
    for width in (390, 820, 1280):
        page.set_viewport_size({"width": width, "height": 900})
        page.goto(f"/parts/holders/new/?pairing={pairing.pk}&kind=ring")
        sizes = page.evaluate(_LETTERS)
        assert len(sizes) >= 3
        assert min(sizes) > 10.5, (width, sizes)


_LETTERS = """[...document.querySelectorAll('.holder-figures svg')].map(drawn => {
  const { width } = drawn.getBoundingClientRect();
  return width / drawn.viewBox.baseVal.width * drawn.getAttribute('font-size');
}).filter(size => size > 0)"""
"""Heights of the letters of the drawings in sight, in pixels."""
