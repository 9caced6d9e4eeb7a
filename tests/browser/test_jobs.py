"""A job in a real browser: logged by keyboard alone, taken through its stages, timed by taps."""

import re
from datetime import timedelta

import pytest
from django.utils import timezone
from PIL import Image
from playwright.sync_api import expect

from jobs.models import Draft, GoAhead, Job
from jobs.options import choosing
from jobs.stages import progress
from jobs.stages.progress import ORDER
from jobs.timing import timing_runs
from tests.browser.conftest import as_user
from tests.browser.faults import DESK, TABLET, TELEPHONE, assert_no_serious_faults, assert_whole
from tests.factories import CaseFamilyFactory, CustomerFactory, JobFactory, PairingFactory


@pytest.fixture
def job(live_server, owner):
    job = JobFactory(customer__name="Ottilie Reed")
    choosing.choose(option=choosing.add_option(job=job, pairing=PairingFactory(name="Grey"), by=owner), by=owner)
    return job


def test_a_watch_of_a_known_customer_is_logged_by_keyboard_alone(page, live_server, db):
    CustomerFactory(name="Ben Alder")
    CaseFamilyFactory(name="Kelpmoor 38")
    page.goto("/")
    page.keyboard.press("n")
    customer = page.get_by_label("Customer", exact=True)
    expect(customer).to_be_focused()
    page.wait_for_load_state()
    page.keyboard.type("Ben Al")
    option = page.locator("#known-customers option")
    expect(option).to_have_count(1)
    customer.fill(option.get_attribute("value"))
    page.get_by_label("Case family").focus()
    page.keyboard.type("Kelpmoor 38")
    page.get_by_label("Luminous paint", exact=True).first.focus()
    page.keyboard.press("n")
    page.get_by_label("What the customer wants").focus()
    page.keyboard.type("Quartz, with the date")
    page.keyboard.press("Control+Enter")
    expect(page.get_by_role("heading", name="Papers for Ben Alder")).to_be_visible()
    assert_no_serious_faults(page)
    made = Job.objects.get()
    assert (made.case_family.name, made.luminous, made.wish) == ("Kelpmoor 38", "none", "Quartz, with the date")


def test_photos_that_were_chosen_are_there_again_beside_what_was_wrong(page, live_server, db, tmp_path):
    Image.new("RGB", (40, 30)).save(tmp_path / "dial.jpg")
    page.goto("/jobs/log/")
    page.get_by_label("As it came").set_input_files(tmp_path / "dial.jpg")
    page.get_by_label("Customer", exact=True).fill("Ottilie Reed")
    page.get_by_label("Luminous paint", exact=True).first.select_option("none")
    page.get_by_label("What the customer wants").fill("Quartz")
    page.get_by_role("button", name="Log this watch").click()
    expect(page.get_by_text("Enter the new customer's phone number")).to_be_visible()
    expect(page.get_by_text("Browsers forget chosen")).to_have_count(0)
    page.get_by_label("Phone").fill("0151 2")
    page.get_by_role("button", name="Log this watch").click()
    expect(page.get_by_role("heading", name="Papers for Ottilie Reed")).to_be_visible()
    assert Job.objects.get().photos.count() == 1
    page.goto("/jobs/log/")
    page.wait_for_load_state()
    assert page.evaluate("document.getElementById('photos').files.length") == 0


def test_no_draft_is_kept_behind_a_watch_that_is_being_logged(page, live_server, db):
    """It would come after the job, and the next watch would begin with this customer's telephone number."""
    page.goto("/jobs/log/")
    page.get_by_label("Customer", exact=True).fill("Ottilie Reed")
    page.get_by_label("Phone").fill("0151 2")
    page.get_by_label("Luminous paint", exact=True).first.select_option("none")
    page.get_by_label("Case family").fill("Kelpmoor 38")
    with page.expect_response("**/jobs/log/draft/"):
        page.get_by_label("What the customer wants").fill("Quartz")
    page.wait_for_timeout(1000)
    kept, held = [], []

    def hold(route):
        held.append(route)

    page.on("request", lambda request: kept.append(request.url) if "/jobs/log/draft/" in request.url else None)
    page.route("**/jobs/log/", hold)
    page.get_by_label("Serial number").fill("A 1234")
    page.get_by_role("button", name="Log this watch").click(no_wait_after=True)
    page.wait_for_timeout(1500)
    held[0].continue_()
    expect(page.get_by_role("heading", name="Papers for Ottilie Reed")).to_be_visible()
    assert (kept, Draft.objects.count()) == ([], 0)


def test_what_is_typed_survives_a_reload(page, live_server, db):
    page.goto("/jobs/log/")
    with page.expect_response("**/jobs/log/draft/"):
        page.get_by_label("What the customer wants").fill("half typed")
        page.keyboard.press("Tab")
    page.reload()
    expect(page.get_by_label("What the customer wants")).to_have_value("half typed")
    assert Draft.objects.get().data["wish"] == "half typed"


def test_what_is_typed_survives_a_lost_connection(page, live_server, db):
    page.goto("/jobs/log/")
    page.route("**/jobs/log/draft/", lambda route: route.abort())
    page.get_by_label("Serial number").fill("A 1234")
    page.wait_for_timeout(1500)
    page.unroute("**/jobs/log/draft/")
    page.reload()
    expect(page.get_by_label("Serial number")).to_have_value("A 1234")


def test_the_condition_is_tapped_by_keyboard_and_comes_back(page, live_server, db):
    page.goto("/jobs/log/")
    crystal = page.get_by_role("group", name="Crystal")
    expect(crystal.get_by_label("Crystal: remark")).to_be_hidden()
    page.route("**/jobs/log/draft/", lambda route: route.abort())
    crystal.get_by_role("radio", name="good").focus()
    page.keyboard.press("ArrowRight")
    expect(crystal.get_by_role("radio", name="worn")).to_be_checked()
    page.get_by_label("Crystal: remark").fill("chip at 4")
    page.wait_for_timeout(1000)
    page.unroute("**/jobs/log/draft/")
    page.reload()
    expect(crystal.get_by_role("radio", name="worn")).to_be_checked()
    expect(page.get_by_label("Crystal: remark")).to_have_value("chip at 4")
    with page.expect_response("**/jobs/log/draft/"):
        crystal.get_by_role("radio", name="clear").check()
    page.reload()
    expect(crystal.get_by_role("radio", name="worn")).not_to_be_checked()


def test_a_tablet_begins_with_the_photos_and_a_desk_uses_two_columns(page, live_server, db):
    page.goto("/jobs/log/")
    photos, customer = page.get_by_label("As it came"), page.get_by_label("Customer", exact=True)
    page.set_viewport_size({"width": 820, "height": 1180})
    assert photos.bounding_box()["y"] < customer.bounding_box()["y"]
    page.set_viewport_size({"width": 1280, "height": 800})
    assert photos.bounding_box()["x"] > customer.bounding_box()["x"] + customer.bounding_box()["width"]


def tick_all(page):
    while page.locator(".tick[aria-checked=false]").count():
        left = page.locator(".tick[aria-checked=false]").count()
        page.locator(".tick[aria-checked=false]").first.click()
        expect(page.locator(".tick[aria-checked=false]")).to_have_count(left - 1)


def test_a_job_goes_through_all_its_stages(page, job):
    page.goto(f"/jobs/{job.number}/")
    page.locator("#next-step").get_by_role("link", name="Note the go-ahead").click()
    page.get_by_label("How").select_option("phone")
    page.get_by_label("Given by").fill("Ottilie Reed")
    page.get_by_role("button", name="Save").click()
    expect(page.get_by_role("status").first).to_contain_text("Go-ahead saved.")
    page.goto(f"/jobs/{job.number}/teardown/")
    for kind in ("teardown", "holder", "dial", "hands", "stem"):
        expect(page.get_by_role("heading", level=1)).to_contain_text(kind.capitalize())
        if kind == "stem":
            length = choosing.report_of(choosing.chosen_option(job)).stem.length
            page.get_by_label("Stem length", exact=True).fill(f"{length:.2f}")
            page.get_by_role("button", name="Save measurements").click()
            expect(page.get_by_role("status").first).to_contain_text("Measurements saved.")
        tick_all(page)
        page.get_by_role("button", name=f"Finish {kind}").click()
        expect(page.get_by_role("status").first).to_contain_text(f"{kind.capitalize()} done. Next: ")
        expect(page.locator("#next-step")).to_be_focused()
    page.get_by_text("Skip this stage", exact=True).click()
    page.get_by_label("Reason for skipping").fill("ran for a week at the customer's")
    page.get_by_role("button", name="Skip timing test").click()
    expect(page.get_by_role("heading", level=1)).to_contain_text("Handover")
    page.get_by_role("button", name="Tick all 4 that are left").click()
    page.get_by_role("button", name="Finish handover").click()
    page.get_by_role("button", name="Finish the job").click()
    expect(page.get_by_role("heading", level=1)).to_contain_text("finished")
    job.refresh_from_db()
    assert job.state == "finished"


def ready(job, owner):
    GoAhead.objects.create(job=job, how="phone", said_by="O. Reed", on=timezone.localdate(), by=owner)


def test_the_next_step_is_done_by_keyboard_alone(page, job, owner):
    ready(job, owner)
    page.goto(f"/jobs/{job.number}/")
    words = page.locator("#next-words")
    expect(words).to_contain_text("Photographed before opening")
    page.keyboard.press("d")
    expect(words).to_contain_text("Hands turned clear")
    lead = page.locator("#do-next")
    lead.focus()
    page.keyboard.press("Enter")
    expect(words).to_contain_text("Dial foot screws loosened")
    expect(lead).to_be_focused()
    expect(page.locator("#stage-strip")).to_contain_text("2 of 4")
    for now in ("Everything taken out", "All of teardown is done"):
        page.keyboard.press("Enter")
        expect(words).to_contain_text(now)
        expect(lead).to_be_focused()
    page.keyboard.press("Enter")
    expect(page.get_by_role("status").first).to_contain_text("Teardown done. Next: holder.")
    expect(page).to_have_url(re.compile(rf"/jobs/{job.number}/#next-step$"))
    expect(page.locator("#next-step")).to_be_focused()
    assert job.stages.get(kind="teardown").state == "done"
    page.keyboard.press("?")
    expect(page.get_by_role("heading", name="Keys")).to_be_visible()
    page.keyboard.press("d")
    page.keyboard.press("Escape")
    page.keyboard.press("j")
    expect(page.locator(".tick").first).to_be_focused()
    page.keyboard.press("q")
    expect(page.get_by_role("button", name="Draft a quote")).to_be_visible()
    page.keyboard.press("f")
    expect(page.get_by_role("heading", level=1)).to_contain_text("Grey")
    page.wait_for_load_state()
    page.keyboard.press("?")
    expect(page.get_by_role("heading", name="Keys")).to_be_visible()
    page.keyboard.press("Escape")
    page.keyboard.press("b")
    expect(page).to_have_url(re.compile("#bench$"))


def test_the_next_step_is_done_by_touch(chromium, live_server, owner, job):
    ready(job, owner)
    context = chromium.new_context(
        base_url=live_server.url, viewport={"width": 390, "height": 844}, has_touch=True, is_mobile=True
    )
    touched = as_user(context.new_page(), live_server, owner)
    touched.goto(f"/jobs/{job.number}/")
    lead = touched.locator("#do-next")
    expect(lead).to_be_in_viewport()
    lead.tap()
    expect(touched.locator("#next-words")).to_contain_text("Hands turned clear")
    touched.get_by_role("button", name="Tick all 3 that are left").tap()
    expect(touched.locator("#next-words")).to_have_text("All of teardown is done")
    lead.tap()
    expect(touched.locator("#stage-strip")).to_contain_text("stage 3 of 8")
    expect(lead).to_be_in_viewport()
    touched.get_by_text("This job", exact=True).tap()
    touched.get_by_role("button", name="Waiting for the customer").tap()
    expect(touched.locator(".job-line")).to_contain_text("waiting for the customer")
    context.close()


def test_a_cut_stem_is_measured_where_the_step_says_so(page, job, owner):
    ready(job, owner)
    for kind in ("teardown", "holder", "dial", "hands"):
        progress.skip(stage=job.stages.get(kind=kind), reason="done before", by=owner)
    page.goto(f"/jobs/{job.number}/")
    for _ in range(3):
        before = page.locator("#next-words").inner_text()
        page.locator("#do-next").click()
        expect(page.locator("#next-words")).not_to_have_text(before)
    expect(page.locator("#next-words")).to_have_text("Measure the stem as it is now")
    page.keyboard.press("m")
    page.keyboard.type("4.56")
    page.keyboard.press("Enter")
    expect(page.locator("#next-words")).to_contain_text("Crown pushes home")
    expect(page.locator(".tick[aria-checked=true]")).to_have_count(3)
    assert_whole(page, widths=(DESK, TABLET, TELEPHONE))


def test_a_job_is_whole_at_every_point_of_its_way(page, job, owner):
    every = ((1920, 1080), DESK, TABLET, TELEPHONE)
    option = choosing.chosen_option(job)
    Job.objects.update(luminous="aged", keep="the crown, the seconds hand and the dial")
    type(option.pairing.case).objects.filter(pk=option.pairing.case_id).update(back_depth=3.70)
    page.goto(f"/jobs/{job.number}/")
    expect(page.get_by_role("heading", name="Keep this watch closed")).to_be_visible()
    expect(page.get_by_text("This option replaces the crown")).to_be_visible()
    assert_whole(page, widths=every)
    for summary in page.locator(".job-aside .fold > summary").all():
        if not summary.evaluate("summary => summary.parentElement.open"):
            summary.click()
    expect(page.get_by_role("button", name="Renew the saved report")).to_be_visible()
    assert_whole(page, widths=every)
    Job.objects.update(luminous="none")
    ready(job, owner)
    page.goto(f"/jobs/{job.number}/")
    page.get_by_text("This job", exact=True).click()
    assert_whole(page, widths=every)
    job.stages.exclude(kind="intake").update(state="done")
    Job.objects.update(stage="", state="finished")
    page.goto(f"/jobs/{job.number}/")
    expect(page.get_by_role("heading", name="How did it turn out?")).to_be_visible()
    assert page.locator(".primary:visible").count() == 1
    assert_whole(page, widths=every)


def start_a_run(page, job):
    page.goto(f"/jobs/{job.number}/runs/")
    page.get_by_role("button", name="Start").click()
    tap = page.get_by_role("button", name="Tap when the seconds hand crosses 12")
    expect(tap).to_be_enabled()
    expect(page.locator("#clock-state")).to_contain_text("Clock checked, within 0.")
    return tap


def move_back(job, seconds=3600):
    """Put the readings so far into the past, as if the watch had run on."""
    for reading in job.timing_runs.get().readings.all():
        reading.at -= timedelta(seconds=seconds)
        reading.save()


def test_taps_make_a_run(page, job):
    tap = start_a_run(page, job)
    tap.click()
    expect(page.locator(".readings tbody tr")).to_have_count(1)
    expect(page.locator("#tap-answer")).to_contain_text("Tap saved: ")
    move_back(job)
    tap.focus()
    page.keyboard.press("Enter")
    expect(page.locator(".readings tbody tr")).to_have_count(2)
    first, second = job.timing_runs.get().readings.all()
    assert abs((second.at - first.at).total_seconds() - 3600) < 30
    assert first.plus_minus_s < 1
    page.get_by_role("button", name="Leave out").first.click()
    expect(page.locator(".undone")).to_have_count(1)
    assert_no_serious_faults(page)


def test_a_key_held_down_or_pressed_twice_is_one_tap(page, job):
    tap = start_a_run(page, job)
    tap.focus()
    page.keyboard.down("Space")
    page.keyboard.down("Space")
    page.keyboard.up("Space")
    expect(page.locator("#tap-answer")).to_contain_text("Tap saved: ")
    page.keyboard.press("Enter")
    expect(page.locator("#tap-answer")).to_contain_text("Not added: this tap came ")
    expect(page.locator("#tap-answer")).to_contain_text("Taps less than 20 s apart count as one.")
    expect(page.locator(".readings tbody tr")).to_have_count(1)
    expect(tap).to_be_focused()
    assert job.timing_runs.get().readings.count() == 1


def test_a_finger_and_a_screen_readers_click_tap_too(page, chromium, live_server, owner, job):
    context = chromium.new_context(
        base_url=live_server.url, viewport={"width": 390, "height": 844}, has_touch=True, is_mobile=True
    )
    touched = as_user(context.new_page(), live_server, owner)
    tap = start_a_run(touched, job)
    tap.tap()
    expect(touched.locator("#tap-answer")).to_contain_text("Tap saved: ")
    tap.tap()
    expect(touched.locator("#tap-answer")).to_contain_text("Not added: this tap came ")
    assert job.timing_runs.get().readings.count() == 1
    move_back(job)
    tap.evaluate("button => button.click()")
    expect(touched.locator(".readings tbody tr")).to_have_count(2)
    context.close()


@pytest.mark.parametrize("motion", ["reduce", "no-preference"])
def test_the_reference_time_runs_on_the_page(page, job, motion):
    page.emulate_media(reduced_motion=motion)
    start_a_run(page, job)
    digits = page.locator(".running-clock time")
    seen, since = set(), timezone.now()
    for _ in range(60):
        seen.add(digits.inner_text())
        page.wait_for_timeout(50)
    passed = (timezone.now() - since).total_seconds()
    before = timezone.localtime() - timedelta(seconds=1)
    shown = digits.inner_text()
    assert shown in {f"{before + timedelta(seconds=seconds):%H:%M:%S}" for seconds in range(4)}
    assert 3 <= len(seen) <= passed + 2


def test_without_the_workshop_the_clock_stands_and_taps_wait(page, job):
    page.route("**/clock/", lambda route: route.abort())
    page.goto(f"/jobs/{job.number}/runs/")
    page.get_by_role("button", name="Start").click()
    expect(page.locator("#clock-state")).to_contain_text("No connection to the workshop; taps are paused.")
    expect(page.locator(".running-clock time")).to_have_text("--:--:--")
    expect(page.get_by_role("button", name="Tap when the seconds hand crosses 12")).to_be_disabled()


def test_without_scripts_a_tap_counts_as_it_arrives(chromium, live_server, owner, job):
    context = chromium.new_context(base_url=live_server.url, java_script_enabled=False)
    plain = as_user(context.new_page(), live_server, owner)
    run = timing_runs.start_run(job=job, by=owner)
    plain.goto(f"/jobs/{job.number}/runs/{run.pk}/")
    expect(plain.get_by_text("Without scripts the clock does not run")).to_be_visible()
    expect(plain.locator(".running-clock")).to_be_hidden()
    for answer in ("Tap saved: ", "Not added: this tap came "):
        plain.get_by_role("button", name="Tap without scripts").click()
        expect(plain.get_by_role("status").first).to_contain_text(answer)
    assert run.readings.count() == 1
    context.close()


def test_every_page_is_whole_and_free_of_faults(page, job):
    number = job.number
    own = ("", "edit/", "go-ahead/", "luminous/", "logged/", "runs/", *(f"{kind}/" for kind in ORDER))
    for address in ["/", "/jobs/log/", "/search/?q=reed", "/customers/", *(f"/jobs/{number}/{part}" for part in own)]:
        page.goto(address)
        assert_whole(page, widths=(DESK, TABLET, TELEPHONE))


def test_the_keys_of_the_bench(page, job):
    page.goto("/")
    page.keyboard.press("?")
    expect(page.get_by_role("heading", name="Keys")).to_be_visible()
    page.keyboard.press("Escape")
    page.keyboard.press("/")
    page.keyboard.type("ottilie")
    expect(page.locator("#hits")).to_contain_text("Ottilie Reed")
    page.keyboard.press("Escape")
    page.get_by_role("heading", name="Bench").click()
    page.keyboard.press("j")
    page.keyboard.press("Enter")
    expect(page.get_by_role("heading", level=1)).to_contain_text(job.number)


def test_what_the_server_never_got_wins_over_its_older_draft(page, live_server, db):
    page.goto("/jobs/log/")
    wish = page.get_by_label("What the customer wants")
    with page.expect_response("**/jobs/log/draft/"):
        wish.fill("half")
    page.route("**/jobs/log/draft/", lambda route: route.abort())
    wish.fill("half, and the rest")
    page.wait_for_timeout(1200)
    page.unroute("**/jobs/log/draft/")
    page.reload()
    expect(wish).to_have_value("half, and the rest")


def test_a_known_name_hides_the_fields_of_a_new_customer(page, live_server, db):
    CustomerFactory(name="Ben Alder")
    page.goto("/jobs/log/")
    page.wait_for_load_state()
    page.keyboard.type("Ben Alder")
    expect(page.locator("#new-customer")).to_contain_text("Known: Ben Alder")
    expect(page.get_by_label("Phone")).to_be_hidden()
    page.keyboard.press("Tab")
    expect(page.get_by_label("Case family")).to_be_focused()
    assert_no_serious_faults(page)


def test_what_is_typed_on_a_stage_outlives_the_sending_of_another_form(page, job):
    page.goto(f"/jobs/{job.number}/teardown/")
    page.get_by_label("Remarks", exact=True).fill("hairline in the crystal")
    page.get_by_label("Case back depth", exact=True).fill("4.15")
    page.get_by_role("button", name="Start").click()
    expect(page.get_by_role("button", name="Stop")).to_be_visible()
    expect(page.get_by_label("Remarks", exact=True)).to_have_value("hairline in the crystal")
    expect(page.get_by_text("Typed earlier, not saved yet.")).to_have_count(2)
    page.get_by_role("button", name="Save measurements").click()
    expect(page.get_by_role("status").first).to_contain_text("Measurements saved.")
    page.get_by_role("button", name="Save remarks").click()
    expect(page.get_by_text("Typed earlier, not saved yet.")).to_have_count(0)
    assert job.stages.get(kind="teardown").remarks == "hairline in the crystal"
    assert job.stages.get(kind="teardown").measured == {"case.back_depth": "4.15 ±0.08"}


def test_a_run_with_readings_is_no_wider_than_a_telephone(page, job, owner):
    run = timing_runs.start_run(job=job, by=owner)
    for hours in range(4):
        at = timezone.now() - timedelta(hours=40 - 10 * hours)
        timing_runs.add_reading(run=run, at=at, offset_s=0.1 * hours, how="tap", plus_minus_s=0.012)
    timing_runs.add_reading(run=run, at=timezone.now() - timedelta(hours=15), offset_s=4.0, how="typed")
    page.goto(f"/jobs/{job.number}/runs/{run.pk}/")
    expect(page.locator(".readings tbody tr")).to_have_count(5)
    expect(page.get_by_text("off the line").first).to_be_visible()
    assert_whole(page, widths=((1920, 1080), DESK, TABLET, TELEPHONE))
