"""A quote in a real browser: drafted, priced, sent, accepted; and the shop's pages."""

from decimal import Decimal

import pytest
from playwright.sync_api import expect

from jobs.models import Quote, QuoteLine
from jobs.options import choosing
from tests.browser.faults import TABLET, TELEPHONE, assert_whole
from tests.factories import JobFactory, PairingFactory


@pytest.fixture
def job(live_server, owner):
    job = JobFactory(customer__name="Ottilie Reed")
    choosing.choose(option=choosing.add_option(job=job, pairing=PairingFactory(name="Grey"), by=owner), by=owner)
    return job


def test_a_quote_from_draft_to_acceptance(page, job):
    page.goto(f"/jobs/{job.number}/")
    page.get_by_role("button", name="Draft a quote").click()
    expect(page.get_by_role("heading", level=1)).to_contain_text("version 1")
    assert_whole(page)
    page.get_by_role("button", name="Mark as sent").click()
    expect(page.get_by_role("status").first).to_contain_text("No price for")
    for price in page.get_by_label("Price", exact=True).all()[:-1]:
        if not price.input_value():
            price.fill("12.50")
    page.get_by_role("button", name="Save the quote").click()
    expect(page.get_by_role("status").first).to_contain_text("Quote saved.")
    total = page.locator("#quote-total b")
    before = Decimal(total.inner_text().removeprefix("€"))
    page.get_by_label("Price", exact=True).first.fill("1000")
    first = QuoteLine.objects.earliest("position").price
    expect(total).to_have_text(f"€{before - first + 1000:,.2f}")
    expect(page.locator("#quote-sums .sum")).to_contain_text(f"€{before - first + 1000:,.2f}")
    page.get_by_label("Discount, %").fill("100")
    expect(total).to_have_text("€0.00")
    page.reload()
    expect(total).to_have_text(f"€{before:,.2f}")
    page.get_by_role("button", name="Mark as sent").click()
    expect(page.get_by_role("status").first).to_contain_text("Marked as sent and locked")
    assert_whole(page)
    page.context.grant_permissions(["clipboard-read", "clipboard-write"])
    page.get_by_role("button", name="Copy this text").first.click()
    expect(page.get_by_role("button", name="Copied.")).to_be_visible()
    assert "here is our quote for your watch" in page.evaluate("navigator.clipboard.readText()")
    page.get_by_label("How", exact=True).select_option("phone")
    page.get_by_role("button", name="Accept").click()
    expect(page.get_by_role("heading", level=1)).to_contain_text("accepted")
    assert_whole(page)
    assert Quote.objects.get().decided_by == "Ottilie Reed"


ROWS = """() => { const cells = [...document.querySelector(".quote-lines tbody tr").children];
    const tops = cells.filter(one => !one.matches(".quote-text")).map(one => one.getBoundingClientRect().top);
    return new Set(tops.map(Math.round)).size }"""


def test_on_a_tablet_a_line_of_a_quote_is_its_words_and_one_row_of_numbers(page, job):
    page.goto(f"/jobs/{job.number}/")
    page.get_by_role("button", name="Draft a quote").click()
    page.set_viewport_size({"width": TABLET[0], "height": TABLET[1]})
    assert page.evaluate(ROWS) == 1
    assert_whole(page, widths=(TABLET, TELEPHONE))


def test_the_shops_pages_are_whole(page, job):
    for address in (
        "/shop/",
        "/shop/rules/",
        "/orders/",
        f"/jobs/{job.number}/orders/add/",
        f"/jobs/{job.number}/papers/",
    ):
        page.goto(address)
        assert_whole(page)
