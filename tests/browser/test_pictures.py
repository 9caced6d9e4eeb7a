"""A whole dial is picked on a picture, by mouse and by keyboard, and its numbers stand in its part."""

import io

import numpy as np
import pytest
from PIL import Image
from playwright.sync_api import expect

from parts.models import Dial, MatPrint, PartPicture
from tests.browser.faults import assert_no_serious_faults
from tests.factories import DialFactory
from tests.picture.dial import DIAL

pytestmark = pytest.mark.django_db(transaction=True)
X, Y = DIAL.middle


@pytest.fixture
def stage(page, picture):
    """The page of a picture that was just taken of a dial that nobody measured."""
    MatPrint.objects.create(pk=7, field=50, across=140.29, down=139.85, plus_minus=0.02)
    dial = DialFactory(
        diameter=None, window_angle=None, window_radius=None, window_radial=None, centre_hole_diameter=None
    )
    out = io.BytesIO()
    Image.fromarray(picture).save(out, "JPEG", quality=92)
    page.goto(f"/parts/dials/{dial.pk}/")
    page.get_by_role("link", name="Measure from a picture").click()
    page.get_by_label("Picture", exact=True).set_input_files(
        {"name": "dial.jpg", "mimeType": "image/jpeg", "buffer": out.getvalue()}
    )
    page.get_by_label("Height of the face over the mat").fill("0.40")
    page.get_by_label("Its ±").fill("0.05")
    page.get_by_role("button", name="Read the picture").click()
    expect(page.locator("#picked")).to_be_visible(timeout=60_000)
    page.wait_for_load_state()
    return page.locator("#pick-stage")


def by_mouse(page, stage, label, *points):
    """Pick at places on the face, mm."""
    page.get_by_role("listitem").filter(has_text=label).get_by_role("button", name="Pick").first.click()
    half = float(stage.get_attribute("data-half"))
    for x, y in points:
        box = stage.bounding_box()
        page.mouse.click(
            box["x"] + (x + half) / (2 * half) * box["width"], box["y"] + (y + half) / (2 * half) * box["height"]
        )
    expect(page.get_by_role("listitem").filter(has_text=label).get_by_role("button", name="Take back")).to_be_visible()


def test_a_dial_is_picked_by_mouse(page, stage):
    assert_no_serious_faults(page)
    page.get_by_role("button", name="They lie right").click()
    by_mouse(page, stage, "12 o'clock", (X, Y - 13))
    by_mouse(page, stage, "Centre hole", (X, Y), (X + 1, Y))
    expect(page.get_by_text("Dial window angle")).to_be_visible()
    page.get_by_role("button", name="Save the ticked numbers").click()
    expect(page.get_by_text("saved, taken from the picture")).to_be_visible()
    dial = Dial.objects.get()
    assert dial.diameter == pytest.approx(28.5, abs=0.03)
    assert dial.window_radius == pytest.approx(9.0, abs=0.03)
    assert dial.window_angle == pytest.approx(90.0, abs=0.5)


CHOSEN_BEFORE_IT_SETTLES = """() => new Promise(settled => {
    const on = (name, act) => document.body.addEventListener(name, ({ target }) => target.id === "picked" && act());
    on("htmx:afterSwap", () => document.querySelector('[data-pick="twelve"]').click());
    on("htmx:afterSettle", settled);
    document.querySelector('[aria-label="Take back: Centre hole"]').click();
})"""


def test_a_circle_is_taken_back_and_picked_by_keyboard(page, stage):
    page.evaluate(CHOSEN_BEFORE_IT_SETTLES)
    expect(page.locator("#pick-status")).to_contain_text("12 o'clock")
    expect(page.locator("[data-sketch]:visible")).to_have_attribute("data-sketch", "twelve")
    pick = page.get_by_role("listitem").filter(has_text="Centre hole").get_by_role("button", name="Pick")
    expect(pick).to_be_visible()
    pick.focus()
    page.keyboard.press("Enter")
    expect(stage).to_be_focused()
    for _ in range(2):
        page.keyboard.press("Shift+ArrowRight")
    page.keyboard.press("Shift+ArrowUp")
    page.keyboard.press("Enter")
    for _ in range(20):
        page.keyboard.press("ArrowRight")
    page.keyboard.press("Enter")
    expect(page.get_by_role("button", name="Take back: Centre hole")).to_be_visible()
    hole = next(each for each in PartPicture.objects.get().picks if each["key"] == "hole")
    assert np.hypot(hole["values"][0] - X, hole["values"][1] - Y) < 0.03
    assert 2 * hole["values"][2] == pytest.approx(2.0, abs=0.03)


PICKED_WHILE_AN_ANSWER_IS_ON_ITS_WAY = """([x, y]) => new Promise(settled => {
    const stage = document.getElementById("pick-stage");
    document.body.addEventListener("htmx:beforeSwap", () => {
        document.querySelector('[data-pick="twelve"]').click();
        const { left, top, width, height } = stage.getBoundingClientRect();
        const half = Number(stage.dataset.half);
        const across = (at) => (at + half) / (2 * half);
        const at = { clientX: left + across(x) * width, clientY: top + across(y) * height };
        stage.dispatchEvent(new MouseEvent("click", at));
    }, { once: true });
    let answers = 2;
    document.getElementById("picked").addEventListener("htmx:afterSettle", () => --answers || settled());
    [...document.querySelectorAll("button")].find(each => each.textContent === "They lie right").click();
})"""


def test_a_pick_made_while_an_answer_is_on_its_way_is_shown(page, stage):
    page.evaluate(PICKED_WHILE_AN_ANSWER_IS_ON_ITS_WAY, [X, Y - 13])
    expect(page.get_by_role("button", name="Take back: 12 o'clock")).to_be_visible()
    expect(page.get_by_text("Dial window angle")).to_be_visible()


def test_an_outline_is_picked_round_and_closed(page, stage):
    page.get_by_role("button", name="They lie right").click()
    by_mouse(page, stage, "12 o'clock", (X, Y - 13))
    page.get_by_role("listitem").filter(has_text="Dial’s outline").get_by_role("button", name="Pick").click()
    half = float(stage.get_attribute("data-half"))
    close = page.get_by_role("button", name="Close the outline")
    expect(close).to_be_hidden()
    for x, y in ((9, -12), (9, 12), (-9, 12), (-9, -12)):
        expect(close).to_be_hidden()
        box = stage.bounding_box()
        across, down = ((at + half) / (2 * half) for at in (X + x, Y + y))
        page.mouse.click(box["x"] + across * box["width"], box["y"] + down * box["height"])
    expect(page.locator("#pick-status")).to_contain_text("or close the outline")
    close.click()
    expect(page.get_by_text("Dial outline")).to_be_visible()
    assert_no_serious_faults(page)
