"""Who gets in, as people do it: the first start, a watchmaker's account, looking only."""

from decimal import Decimal

import pytest
from playwright.sync_api import expect

from tests.browser.conftest import as_user
from tests.browser.faults import assert_no_serious_faults, assert_whole
from tests.browser.steps import follow
from tests.factories import PASSWORD, JobFactory, UserFactory
from workshop.accounts.links import new_link

pytestmark = pytest.mark.django_db


def choose(page, password=PASSWORD):
    page.get_by_label("Password", exact=True).fill(password)
    page.get_by_label("Password again").fill(password)


def test_from_the_first_start_to_a_bench_hand_who_sees_no_money(visitor_page, chromium, live_server, viewport):
    owner = visitor_page
    job = JobFactory(number="26-001", diagnosis_fee=Decimal(7319))
    owner.goto(f"/first-start/{new_link()}/")
    owner.get_by_label("Name").fill("ines")
    choose(owner)
    owner.get_by_role("button", name="Create account").click()
    owner.locator(".page-more summary").click()
    owner.get_by_role("link", name="Settings").click()
    follow(owner.get_by_role("link", name="Accounts"))
    assert_no_serious_faults(owner)
    owner.get_by_label("Name").fill("emil")
    owner.get_by_label("Role").select_option("watchmaker")
    owner.get_by_role("button", name="Add account").click()
    expect(owner.get_by_role("heading", name="Link for emil")).to_be_visible()
    assert_no_serious_faults(owner)
    link = owner.locator("code").inner_text()

    context = chromium.new_context(base_url=live_server.url, viewport=viewport)
    hand = context.new_page()
    hand.goto(link)
    assert_no_serious_faults(hand)
    choose(hand)
    hand.get_by_role("button", name="Save password").click()
    hand.locator(".page-more summary").click()
    hand.get_by_role("button", name="Sign out").click()
    hand.get_by_label("Name").fill("emil")
    hand.get_by_label("Password").fill(PASSWORD)
    hand.get_by_label("Keep me signed in on this device").check()
    hand.get_by_role("button", name="Sign in").click()
    expect(hand.locator(".page-head")).not_to_contain_text("Settings")
    hand.get_by_role("link", name=job.number).click()
    expect(hand.locator("#orders > summary")).to_contain_text("Parts to buy")
    assert "7,319" not in hand.content()
    owner.goto(f"/jobs/{job.number}/")
    assert "7,319" in owner.content()
    hand.goto("/shop/")
    expect(hand.get_by_role("heading", name="Not with this account")).to_be_visible()
    hand.locator(".page-more summary").click()
    hand.get_by_role("link", name="emil").click()
    expect(hand.get_by_role("row", name="this device")).to_contain_text("90 days")
    assert_no_serious_faults(hand)

    owner.goto("/people/")
    follow(owner.get_by_role("link", name="emil"))
    assert_no_serious_faults(owner)
    owner.get_by_role("button", name="Switch off").click()
    hand.goto("/")
    expect(hand.get_by_role("heading", name="Sign in")).to_be_visible()
    context.close()


def test_who_only_looks_has_no_buttons_and_is_refused_in_the_page(visitor_page, live_server):
    job = JobFactory(number="26-001")
    page = as_user(visitor_page, live_server, UserFactory(username="ruth"))
    page.goto(f"/jobs/{job.number}/")
    expect(page.get_by_text("You can look at everything here")).to_be_visible()
    expect(page.get_by_role("link", name="Edit", exact=True)).to_have_count(0)
    page.locator(".page-more summary").click()
    assert [one.inner_text() for one in page.get_by_role("button").all()] == ["Sign out"]
    assert_no_serious_faults(page)
    address = f"/jobs/{job.number}/state/"
    page.evaluate(f"htmx.ajax('POST', '{address}', {{target: 'main', values: {{do: 'finished'}}}})")
    expect(page.locator("#messages")).to_contain_text("Not with this account")
    expect(page.get_by_role("navigation", name="Stages")).to_be_visible()
    job.refresh_from_db()
    assert job.state == "open"


def test_the_pages_of_ones_own_account_keep_nobody_out(page, owner):
    for address in ("/account/", "/account/password/", f"/people/{owner.pk}/", "/choose-password/none/"):
        page.goto(address)
        assert_whole(page)
