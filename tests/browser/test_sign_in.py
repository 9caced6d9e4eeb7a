"""The first start and signing in, as a person does it."""

from playwright.sync_api import expect

from tests.browser.conftest import both_widths
from tests.browser.faults import assert_no_serious_faults
from tests.factories import PASSWORD, UserFactory
from workshop.accounts.links import new_link


def test_first_start_makes_the_account_and_opens_the_workshop(visitor_page, db):
    token = new_link()
    visitor_page.goto("/")
    expect(visitor_page.get_by_role("heading", name="First start")).to_be_visible()
    expect(visitor_page.get_by_role("textbox")).to_have_count(0)
    assert_no_serious_faults(visitor_page)
    visitor_page.goto(f"/first-start/{token}/")
    assert_no_serious_faults(visitor_page)
    visitor_page.get_by_label("Name").fill("ines")
    visitor_page.get_by_label("Password", exact=True).fill("balance-cock-7")
    visitor_page.get_by_label("Password again").fill("balance-cock-8")
    visitor_page.get_by_role("button", name="Create account").click()
    again = visitor_page.get_by_label("Password again")
    expect(again).to_have_attribute("aria-invalid", "true")
    expect(again).to_have_accessible_description("The two passwords differ. Type both again.")
    assert_no_serious_faults(visitor_page)
    visitor_page.get_by_label("Password", exact=True).fill("balance-cock-7")
    again.fill("balance-cock-7")
    visitor_page.keyboard.press("Enter")
    expect(visitor_page.get_by_role("navigation", name="Main")).to_be_visible()
    expect(visitor_page.get_by_role("banner")).to_contain_text("ines")


def test_sign_in_and_out(visitor_page, live_server, db):
    UserFactory(username="ines")
    visitor_page.goto("/")
    visitor_page.get_by_label("Name").fill("ines")
    visitor_page.get_by_label("Password").fill("wrong")
    visitor_page.get_by_role("button", name="Sign in").click()
    expect(visitor_page.get_by_role("alert")).to_contain_text("Wrong name or password")
    assert_no_serious_faults(visitor_page)
    visitor_page.get_by_label("Password").fill(PASSWORD)
    visitor_page.get_by_role("button", name="Sign in").click()
    visitor_page.locator(".page-more summary").click()
    visitor_page.get_by_role("button", name="Sign out").click()
    expect(visitor_page.get_by_role("heading", name="Sign in")).to_be_visible()


@both_widths
def test_the_page_frame_has_large_targets_and_a_skip_link(page):
    page.goto("/")
    assert_no_serious_faults(page)
    for target in [*page.get_by_role("banner").get_by_role("link").all(), *page.get_by_role("button").all()]:
        assert target.bounding_box()["height"] >= 44
    page.keyboard.press("Tab")
    expect(page.get_by_role("link", name="Skip to the content")).to_be_in_viewport()
    page.keyboard.press("Enter")
    assert page.evaluate("document.activeElement.id") == "content"
    assert page.evaluate("document.documentElement.scrollWidth <= window.innerWidth")
