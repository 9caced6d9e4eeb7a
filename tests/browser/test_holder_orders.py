"""A holder order in a real browser, by keyboard, from the list to what the customer says."""

import pytest
from playwright.sync_api import expect

from jobs.holder_orders import steps
from jobs.models import HolderOrder, Shop
from tests.browser.faults import assert_whole
from tests.browser.steps import follow
from tests.factories import CustomerFactory, UserFactory
from tests.pages.jobs.conftest import design  # noqa: F401 - a fixture


@pytest.fixture
def order(live_server, design):  # noqa: F811
    """An order whose piece is made."""
    order = HolderOrder(design=design, material="tough filament", count=1)
    steps.take(order=order, customer=CustomerFactory(name="Oda Fenwright"), by=UserFactory())
    return steps.forward(order=order, seen="make")


def press(page, name, role="button"):
    follow(page.get_by_role(role, name=name, exact=True))


def test_from_the_drawing_to_what_the_customer_says_by_keyboard(page, order):
    page.goto("/holder-orders/")
    assert_whole(page)
    press(page, f"Holder order {order.pk}", "link")
    page.get_by_label("Outside diameter").focus()
    page.keyboard.type("26,3")
    page.keyboard.press("Enter")
    expect(page.get_by_text("Piece 1 is outside its limits")).to_be_visible()
    assert_whole(page)
    page.get_by_label("Outside diameter").fill("26.02")
    press(page, "Save this piece")
    press(page, "Checked")
    assert_whole(page)
    page.get_by_label("Address").fill("4 Kiln Row")
    press(page, "Save the address")
    press(page, "Sent")
    page.get_by_label("tight").focus()
    page.keyboard.press("Space")
    press(page, "Save")
    expect(page.get_by_role("heading", name="The customer says: tight")).to_be_visible()
    assert_whole(page)
    order.design.refresh_from_db()
    assert order.design.result == "tight"


def test_a_new_order_and_the_price_list_are_whole(page, order):
    for address in (f"/holder-orders/new/?design={order.design_id}", "/holder-orders/prices/"):
        page.goto(address)
        assert_whole(page)


def test_the_invoice_of_an_order_is_whole_from_the_order_to_its_credit_note(page, order):
    Shop.objects.update_or_create(defaults={"name": "Weir Lane Watches", "address": "12 Weir Lane", "tax_rate": 19})
    HolderOrder.objects.update(price_each="12.50", count=3)
    page.goto(order.get_absolute_url())
    press(page, "Make an invoice", "link")
    assert_whole(page)
    page.get_by_label("Postage").fill("4,90")
    press(page, "Issue the invoice")
    expect(page.get_by_role("heading", name="Invoice")).to_be_visible()
    assert_whole(page)
    press(page, str(order), "link")
    assert_whole(page)
