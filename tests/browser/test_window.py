"""The show window in a real browser: the published folder from a plain file server, and its pages in the program."""

import functools
import threading
from http.server import SimpleHTTPRequestHandler, ThreadingHTTPServer

import pytest
from playwright.sync_api import expect

from jobs.window.publishing import folder
from tests.browser.faults import DESK, TELEPHONE, assert_no_serious_faults, assert_whole
from tests.browser.steps import follow
from tests.factories import CustomerFactory
from tests.jobs.window.conftest import finished, shop  # noqa: F401 - fixtures

pytestmark = pytest.mark.django_db
_PAGES = ("index.html", "ja/pieces.html", "cases/tollgate-40.html")


class Quiet(SimpleHTTPRequestHandler):
    """The standard library's file server, without its log."""

    def log_message(self, *_words):
        pass


@pytest.fixture(scope="module")
def served(published):
    """The address of the published folder, one of its pieces and a holder to order."""
    server = ThreadingHTTPServer(("127.0.0.1", 0), functools.partial(Quiet, directory=published.folder))
    threading.Thread(target=server.serve_forever, daemon=True).start()
    piece = next(path for path in published.after if path.startswith("pieces/"))
    holder = next(path for path in published.after if path.startswith("holders/"))
    yield f"http://127.0.0.1:{server.server_port}/", piece, holder
    server.shutdown()
    server.server_close()


@pytest.fixture
def scheme():
    """The colours that a visitor likes."""
    return "light"


@pytest.fixture
def site_page(chromium, scheme):
    """A page that takes nothing but from the folder; a fault of a script fails the test."""
    context = chromium.new_context(color_scheme=scheme, viewport={"width": DESK[0], "height": DESK[1]})
    page, faults = context.new_page(), []
    page.on("request", lambda asked: None if "//127.0.0.1:" in asked.url else faults.append(asked.url))
    page.on("requestfailed", lambda asked: faults.append(asked.url))
    page.on("response", lambda answer: faults.append(answer.url) if answer.status >= 400 else None)
    page.on("pageerror", lambda error: faults.append(str(error)))
    yield page
    context.close()
    assert not faults


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_every_kind_of_page_is_without_faults(site_page, served, scheme):
    address, piece, holder = served
    for path in (*_PAGES, piece, holder):
        site_page.goto(f"{address}{path}")
        assert_no_serious_faults(site_page, widths=(DESK, TELEPHONE) if scheme == "light" else (DESK,))


def test_no_page_goes_sideways(site_page, served):
    address, piece, holder = served
    for path in (*_PAGES, piece, holder):
        site_page.goto(f"{address}{path}")
        for width in (390, 820, 1920):
            site_page.set_viewport_size({"width": width, "height": 900})
            assert site_page.evaluate("document.documentElement.scrollWidth <= window.innerWidth"), (path, width)


def test_a_stranger_finds_a_piece_by_words_and_by_keyboard(site_page, served):
    address, *_pages = served
    site_page.goto(address)
    site_page.get_by_role("link", name="See all 4 conversions").focus()
    site_page.keyboard.press("Enter")
    site_page.get_by_label("Find a case, a movement, a word").fill("spacer quern")
    expect(site_page.get_by_role("status")).to_have_text("1 match")
    expect(site_page.locator(".rows li:visible")).to_have_count(1)
    site_page.get_by_label("Find a case, a movement, a word").fill("nowhere")
    expect(site_page.get_by_text("Nothing found.")).to_be_visible()
    site_page.get_by_label("Find a case, a movement, a word").fill("tollgate")
    site_page.get_by_role("link", name="Crown and date at 4").click()
    expect(site_page.get_by_role("heading", name="What it takes")).to_be_visible()
    site_page.get_by_role("link", name="Deutsch").click()
    expect(site_page.get_by_role("heading", name="Krone und Datum bei 4")).to_be_visible()


def test_the_list_works_without_scripts_and_from_the_disk(chromium, published):
    context = chromium.new_context(java_script_enabled=False)
    page = context.new_page()
    page.goto((published.folder / "pieces.html").as_uri())
    expect(page.locator(".rows li")).to_have_count(4)
    expect(page.get_by_role("search")).to_be_hidden()
    page.get_by_role("link", name="Silver dial on a spacer").click()
    expect(page.get_by_role("heading", name="Silver dial on a spacer")).to_be_visible()
    context.close()


def test_from_a_past_swap_to_the_written_site(live_server, page, finished):  # noqa: F811
    CustomerFactory(name="Orla Marsh")
    job = finished(case_family__name="Tollgate 40")
    page.goto(f"/jobs/{job.number}/")
    page.get_by_text("This job", exact=True).click()
    follow(page.get_by_role("link", name="Show window").last)
    assert_whole(page)
    page.get_by_label("Title").fill("Green as the Marsh")
    follow(page.get_by_role("button", name="Put in the window"))
    assert_whole(page)
    follow(page.get_by_role("link", name="About the site"))
    assert_whole(page)
    page.get_by_role("link", name="Check and write").click()
    expect(page.get_by_text("Nothing is written while it does.")).to_be_visible()
    assert_whole(page)
    page.get_by_role("button", name="It means something else").click()
    page.get_by_role("button", name="Write the site").click()
    expect(page.get_by_text("files written.")).to_be_visible()
    page.goto("/window/site/")
    expect(page.get_by_role("link", name="Newest: Green as the Marsh")).to_be_visible()
    assert "Green as the Marsh" in (folder() / "index.html").read_text()
