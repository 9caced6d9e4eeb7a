"""A holder order in a real browser, by keyboard, from the list to what the customer says."""

import pytest
from playwright.sync_api import expect

from jobs.holder_orders import steps
from jobs.models import HolderOrder
from tests.browser.faults import assert_whole
from tests.factories import CustomerFactory, UserFactory
from tests.pages.jobs.test_holder_orders import design  # noqa: F401 - a fixture


@pytest.fixture
def order(live_server, design):  # noqa: F811
    """An order whose piece is made."""
    order = HolderOrder(design=design, material="tough filament", count=1)
    steps.take(order=order, customer=CustomerFactory(name="Oda Fenwright"), by=UserFactory())
    return steps.forward(order=order, seen="make")


def press(page, name, role="button"):
    page.get_by_role(role, name=name, exact=True).focus()
    page.keyboard.press("Enter")


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
