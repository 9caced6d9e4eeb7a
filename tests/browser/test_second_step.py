"""The second step at signing in as people do it: an app's first code, recovery codes, a passkey of the device."""

import re

import pyotp
import pytest
from playwright.sync_api import expect

from tests.browser.faults import assert_no_serious_faults, assert_whole
from tests.browser.steps import follow
from tests.factories import PASSWORD, UserFactory

pytestmark = pytest.mark.django_db


@pytest.fixture
def ines(visitor_page, live_server):
    """A page on the network by a name, on a device with a lock of its own."""
    UserFactory(username="ines", is_staff=True)
    page = visitor_page
    page.set_extra_http_headers({"X-Forwarded-For": "192.168.7.20"})
    device = page.context.new_cdp_session(page)
    device.send("WebAuthn.enable")
    lock = {"protocol": "ctap2", "transport": "internal", "hasUserVerification": True, "isUserVerified": True}
    device.send("WebAuthn.addVirtualAuthenticator", {"options": lock | {"automaticPresenceSimulation": True}})
    page.at = live_server.url.replace("127.0.0.1", "localhost")
    return page


def sign_in(page):
    page.goto(f"{page.at}/sign-in/")
    page.get_by_label("Name").fill("ines")
    page.get_by_label("Password").fill(PASSWORD)
    page.get_by_role("button", name="Sign in").click()


def sign_out(page):
    page.locator(".page-more summary").click()
    page.get_by_role("button", name="Sign out").click()


def test_an_app_is_set_up_and_its_recovery_codes_open(ines):
    sign_in(ines)
    expect(ines.get_by_role("heading", name="Second step")).to_be_visible()
    assert_whole(ines)
    follow(ines.get_by_role("link", name="Set up an app"))
    assert_whole(ines)
    assert_no_serious_faults(ines)
    secret = ines.locator("code").inner_text().replace(" ", "")
    ines.get_by_label("Code that the app shows").fill(pyotp.TOTP(secret).now())
    ines.get_by_role("button", name="Set up").click()
    expect(ines.get_by_role("heading", name="Recovery codes")).to_be_visible()
    assert_whole(ines)
    assert_no_serious_faults(ines)
    codes = ines.locator(".recovery-codes code").all_inner_texts()
    assert all(re.fullmatch(r"[a-z2-9]{5}-[a-z2-9]{5}", code) for code in codes)
    ines.get_by_role("link", name="I have them").click()
    sign_out(ines)
    sign_in(ines)
    assert_whole(ines)
    assert_no_serious_faults(ines)
    ines.get_by_label("Code").fill("000000")
    ines.get_by_label("Code").press("Enter")
    expect(ines.get_by_role("alert").first).to_contain_text("Wrong code")
    ines.get_by_label("Code").fill(codes[0])
    ines.get_by_label("Code").press("Enter")
    expect(ines).to_have_url(f"{ines.at}/")


def test_a_passkey_is_added_by_keyboard_and_opens(ines):
    sign_in(ines)
    name = ines.get_by_label("Name of the device")
    name.fill("Tablet at the bench")
    name.press("Tab")
    ines.keyboard.press("Enter")
    ines.get_by_role("link", name="I have them").click()
    ines.goto(f"{ines.at}/account/second-step/")
    expect(ines.get_by_text("Tablet at the bench since")).to_be_visible()
    assert_whole(ines)
    sign_out(ines)
    sign_in(ines)
    ines.get_by_role("button", name="Use a passkey").click()
    expect(ines).to_have_url(f"{ines.at}/")
    ines.goto(f"{ines.at}/account/second-step/")
    expect(ines.get_by_text(re.compile("Tablet at the bench since .* last used"))).to_be_visible()
    ines.get_by_role("button", name="Remove Tablet at the bench").click()
    expect(ines.get_by_text("The passkey is removed.")).to_be_visible()
    sign_out(ines)
    sign_in(ines)
    expect(ines.get_by_role("link", name="Later")).to_be_visible()
