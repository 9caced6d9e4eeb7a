"""A real Chromium, as wide as a desk's screen; `both_widths` runs a test on a tablet's as well."""

import functools
import os

import pytest
from django.conf import settings
from django.test import Client
from django.utils import timezone
from playwright.sync_api import Locator, Page, expect, sync_playwright

from tests.browser.faults import DESK, TABLET

CHROMIUM = "/usr/bin/chromium-headless-shell"
ARGUMENTS = [
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
]

TYPING = ["fill", "press", "press_sequentially", "type", "select_option", "set_input_files"]
POINTING = ["click", "dblclick", "check", "uncheck", "hover", "tap", "drag_to"]

expect.set_options(timeout=30_000)


def once_read(act):
    """The same act, once the page's scripts have run: on a busy machine a page is seen before it listens."""

    @functools.wraps(act)
    def after_its_scripts(self, *values, **options):
        page = self if isinstance(self, Page) else self.page
        page.wait_for_load_state("domcontentloaded")
        return act(self, *values, **options)

    return after_its_scripts


@pytest.fixture(scope="session")
def chromium():
    """The browser, started once. Playwright's loop stays in this thread, so Django must allow that."""
    with pytest.MonkeyPatch.context() as patch, sync_playwright() as playwright:
        patch.setenv("DJANGO_ALLOW_ASYNC_UNSAFE", "true")
        for name in [*TYPING, *POINTING, "focus", "dispatch_event", "evaluate"]:
            patch.setattr(Locator, name, once_read(getattr(Locator, name)))
        for name in ("keyboard", "mouse", "touchscreen"):
            patch.setattr(Page, name, property(once_read(getattr(Page, name).fget)))
        patch.setattr(Page, "evaluate", once_read(Page.evaluate))
        assert os.path.exists(CHROMIUM), "Chromium is missing; `make test` installs it."
        browser = playwright.chromium.launch(executable_path=CHROMIUM, args=ARGUMENTS)
        yield browser
        browser.close()


both_widths = pytest.mark.parametrize("viewport", [DESK, TABLET], ids=["desk", "tablet"], indirect=True)
"""For what depends on where things lie while somebody works; `assert_whole` looks at both widths by itself."""


@pytest.fixture
def viewport(request):
    """The window's width and height."""
    width, height = getattr(request, "param", DESK)
    return {"width": width, "height": height}


@pytest.fixture
def visitor_page(chromium, viewport, live_server):
    """A page of somebody who is not signed in. Script errors and blocked content fail the test."""
    context = chromium.new_context(base_url=live_server.url, viewport=viewport)
    context.set_default_timeout(30_000)
    context.set_default_navigation_timeout(45_000)
    page = context.new_page()
    complaints = []
    page.on("pageerror", lambda error: complaints.append(str(error)))
    page.on(
        "console",
        lambda message: complaints.append(message.text) if "Content Security" in message.text else None,
    )
    yield page
    context.close()
    assert not complaints, complaints


@pytest.fixture
def page(visitor_page, live_server, owner):
    """A page of the signed-in owner: page.goto("/parts/") opens the address on the live server."""
    return as_user(visitor_page, live_server, owner)


def as_user(page, live_server, user):
    """Give the page the session of a user whose password was just typed."""
    client = Client()
    client.force_login(user)
    session = client.session
    session["proved"] = timezone.now().isoformat()
    session.save()
    name = settings.SESSION_COOKIE_NAME
    page.context.add_cookies([{"name": name, "value": client.cookies[name].value, "url": live_server.url}])
    return page
