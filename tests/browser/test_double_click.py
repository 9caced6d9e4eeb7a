"""A second click while the first is still worked on makes no second entry, and the page that shows the entry opens."""

import time

import pytest
from playwright.sync_api import expect

from jobs import history
from jobs.models import GoAhead, Job
from tests.factories import JobFactory


@pytest.fixture
def slow(monkeypatch):
    """Writing down what happened takes a while, as it does on a slow disk."""

    def record(**event):
        time.sleep(0.7)
        return history.record(**event)

    monkeypatch.setattr("jobs.go_ahead.record", record)
    monkeypatch.setattr("jobs.intake.arrival.record", record)


def click_twice(page, name):
    button = page.get_by_role("button", name=name)
    button.scroll_into_view_if_needed()
    box = button.bounding_box()
    for _ in range(2):
        page.mouse.click(box["x"] + box["width"] / 2, box["y"] + box["height"] / 2)
        page.wait_for_timeout(250)


def test_a_go_ahead_is_recorded_once(page, live_server, db, slow):
    job = JobFactory()
    page.goto(f"/jobs/{job.number}/go-ahead/")
    page.get_by_label("How").select_option("phone")
    page.get_by_label("Given by").fill("Ottilie Reed")
    click_twice(page, "Save")
    page.locator("#watch > summary").click()
    expect(page.get_by_text("By phone, Ottilie Reed").first).to_be_visible()
    assert GoAhead.objects.count() == 1


def test_a_watch_is_logged_once(page, live_server, db, slow):
    page.goto("/jobs/log/")
    page.get_by_label("Customer", exact=True).fill("Ottilie Reed")
    page.get_by_label("Phone").fill("0151 2")
    page.get_by_label("Luminous paint", exact=True).first.select_option("none")
    page.get_by_label("What the customer wants").fill("Quartz")
    click_twice(page, "Log this watch")
    expect(page.get_by_role("heading", name="Papers for Ottilie Reed")).to_be_visible()
    assert Job.objects.count() == 1
