"""A photo at full size: zoomed by keys, buttons and fingers, marked by keys and pointer; photos put in order."""

import pytest
from PIL import Image
from playwright.sync_api import expect

from jobs.photos.storing import store_pictures
from parts.tools.pictures import as_kept
from tests.browser.conftest import as_user
from tests.browser.faults import assert_whole
from tests.factories import JobFactory

pytestmark = pytest.mark.django_db(transaction=True)


@pytest.fixture
def photos(owner, files):
    job = JobFactory()
    pictures = [as_kept(Image.new("RGB", (900, 600), colour)) for colour in ("#806040", "#406080", "#408060")]
    return store_pictures(job=job, pictures=pictures, by=owner)


def address(photo):
    return f"/jobs/{photo.job.number}/photos/{photo.pk}/view/"


def view_box(page):
    words = page.locator("#photo-stage svg").get_attribute("viewBox")
    return [float(word) for word in words.split()]


def marks_of(photo):
    photo.refresh_from_db()
    return photo.marks


def test_by_keyboard_alone_a_photo_is_opened_zoomed_moved_and_marked(page, photos):
    page.goto(f"/jobs/{photos[0].job.number}/")
    page.locator(".photos a").nth(0).focus()
    page.keyboard.press("Enter")
    expect(page.locator("h1")).to_contain_text("Photo 1 of 3")
    stage = page.locator("#photo-stage")
    stage.focus()
    page.keyboard.press("+")
    page.keyboard.press("+")
    left, top, wide, _ = view_box(page)
    assert wide == pytest.approx(900 / 2.25)
    expect(page.locator("#photo-scale")).to_have_text("2.3 ×")
    page.keyboard.press("ArrowRight")
    assert view_box(page)[0] == pytest.approx(left + 40)
    page.keyboard.press("ArrowUp")
    assert view_box(page)[1] < top
    page.keyboard.press("0")
    assert view_box(page) == [0, 0, 900, 600]
    page.get_by_role("button", name="Draw on the photo").focus()
    page.keyboard.press("Enter")
    expect(stage).to_be_focused()
    expect(page.locator("#mark-status")).to_contain_text("Point at where the arrow begins.")
    for _ in range(4):
        page.keyboard.press("Shift+ArrowLeft")
    page.keyboard.press("Enter")
    expect(page.locator("#mark-status")).to_have_text("Point at what it shows.")
    page.keyboard.press("Shift+ArrowDown")
    page.keyboard.press("ArrowRight")
    with page.expect_navigation():
        page.keyboard.press("Enter")
    assert marks_of(photos[0]) == [{"kind": "arrow", "x": 0.1, "y": 0.5, "x2": 0.11, "y2": 0.6}]
    page.get_by_role("button", name="Undo the last mark").focus()
    with page.expect_navigation():
        page.keyboard.press("Enter")
    expect(page.get_by_role("button", name="Bring the mark back")).to_be_visible()
    assert marks_of(photos[0])[0]["undone"] is True


def test_by_pointer_a_ring_is_dragged_and_words_are_set(page, photos):
    page.goto(address(photos[1]))
    page.get_by_role("radio", name="ring").check()
    page.get_by_role("button", name="Draw on the photo").click()
    box = page.locator("#photo-stage svg").bounding_box()
    across, down = box["x"] + box["width"] / 2, box["y"] + box["height"] / 2
    page.mouse.move(across, down)
    page.mouse.down()
    page.mouse.move(across + 60, down, steps=4)
    with page.expect_navigation():
        page.mouse.up()
    [ring] = marks_of(photos[1])
    assert (ring["kind"], ring["x"], ring["y"]) == ("ring", pytest.approx(0.5, abs=0.01), pytest.approx(0.5, abs=0.01))
    assert ring["x2"] > 0.52
    page.get_by_role("radio", name="words").check()
    page.get_by_role("button", name="Draw on the photo").click()
    expect(page.locator("#mark-status")).to_have_text("Type the words first.")
    page.get_by_role("textbox", name="Words").fill("chip")
    page.get_by_role("button", name="Draw on the photo").click()
    with page.expect_navigation():
        page.locator("#photo-stage").click(position={"x": 100, "y": 60})
    expect(page.locator("#photo-stage svg text").last).to_have_text("chip")
    assert_whole(page)


def test_by_touch_two_fingers_zoom_and_one_moves(chromium, live_server, owner, photos):
    context = chromium.new_context(
        base_url=live_server.url, viewport={"width": 820, "height": 1180}, has_touch=True, is_mobile=True
    )
    page = as_user(context.new_page(), live_server, owner)
    page.goto(address(photos[0]))
    box = page.locator("#photo-stage svg").bounding_box()
    across, down = box["x"] + box["width"] / 2, box["y"] + box["height"] / 2
    touch = context.new_cdp_session(page)

    def fingers(kind, *places):
        points = [{"x": x, "y": y, "id": i} for i, (x, y) in enumerate(places)]
        touch.send("Input.dispatchTouchEvent", {"type": kind, "touchPoints": points})

    fingers("touchStart", (across - 30, down), (across + 30, down))
    for reach in (50, 70, 90):
        fingers("touchMove", (across - reach, down), (across + reach, down))
    fingers("touchEnd")
    left, _, wide, _ = view_box(page)
    assert wide == pytest.approx(900 / 3, rel=0.1)
    fingers("touchStart", (across, down))
    for step in (20, 40, 60):
        fingers("touchMove", (across - step, down))
    fingers("touchEnd")
    assert view_box(page)[0] > left + 10
    page.reload()
    page.locator("#photo-stage").dispatch_event("dblclick", {"clientX": across, "clientY": down})
    assert view_box(page)[2] == pytest.approx(300)
    page.get_by_role("button", name="Whole photo").tap()
    expect(page.locator("#photo-stage svg")).to_have_attribute("viewBox", "0 0 900 600")
    context.close()


def test_photos_are_put_in_order_by_drag_and_by_buttons(page, photos):
    page.goto(f"/jobs/{photos[0].job.number}/")
    places = page.locator("[data-photo-order] li")
    with page.expect_navigation():
        places.nth(2).drag_to(places.nth(0))
    order = list(photos[0].job.photos.values_list("pk", flat=True))
    assert order == [photos[2].pk, photos[0].pk, photos[1].pk]
    page.get_by_text("Add, order or archive photos").click()
    button = page.get_by_role("button", name="Move photo 1 later")
    button.focus()
    with page.expect_navigation():
        page.keyboard.press("Enter")
    assert list(photos[0].job.photos.values_list("pk", flat=True))[:2] == [photos[0].pk, photos[2].pk]


def test_without_scripts_the_page_shows_the_picture_and_marks_by_numbers(chromium, live_server, owner, photos):
    context = chromium.new_context(base_url=live_server.url, java_script_enabled=False)
    page = as_user(context.new_page(), live_server, owner)
    page.goto(address(photos[0]))
    assert page.locator("#photo-stage svg image").bounding_box()["width"] > 300
    assert page.get_by_role("button", name="Zoom in").count() == 0
    page.get_by_text("Place it by numbers").click()
    for label, value in (("From the left", "10"), ("From the top", "20"), ("To, from the left", "30")):
        page.get_by_label(label, exact=True).fill(value)
    page.get_by_label("To, from the top").fill("40")
    page.get_by_role("button", name="Add the mark").click()
    assert marks_of(photos[0]) == [{"kind": "arrow", "x": 0.1, "y": 0.2, "x2": 0.3, "y2": 0.4}]
    context.close()
