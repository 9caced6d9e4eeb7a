"""Looking after in a real browser, by keyboard."""

import datetime as dt

import pytest
from django.utils import timezone
from playwright.sync_api import expect

from jobs.models import FollowUp
from tests.browser.faults import assert_no_serious_faults, assert_whole
from tests.jobs.after.conftest import gone_home  # noqa: F401 - a fixture


@pytest.fixture
def job(live_server, gone_home):  # noqa: F811
    """A watch whose cell is overdue."""
    return gone_home(timezone.localdate() - dt.timedelta(days=2000))


def test_from_the_bench_to_the_new_cell_by_keyboard(page, job):
    page.goto("/")
    page.get_by_role("link", name="Looking after: 1 overdue").focus()
    page.keyboard.press("Enter")
    expect(page.get_by_role("heading", name="Overdue")).to_be_visible()
    assert_whole(page)
    page.get_by_role("link", name="New cell").focus()
    page.keyboard.press("Enter")
    expect(page.get_by_role("heading", name="What happened?")).to_be_visible()
    assert_whole(page)
    page.get_by_role("button", name="New cell is in").focus()
    page.keyboard.press("Enter")
    expect(page.get_by_text("Noted in the job's history.")).to_be_visible()
    assert_whole(page)
    assert FollowUp.objects.get().done_on == timezone.localdate()
    page.goto("/after/")
    expect(page.get_by_role("heading", name="Overdue")).to_have_count(0)


def test_the_calendars_address_is_shown_once(page, job):
    page.goto("/calendar/")
    assert_whole(page)
    page.get_by_role("button", name="Make an address").focus()
    page.keyboard.press("Enter")
    expect(page.get_by_text("shown only now")).to_be_visible()
    assert_no_serious_faults(page)
    assert_whole(page)
    page.goto("/calendar/")
    expect(page.get_by_text("shown only now")).to_have_count(0)
