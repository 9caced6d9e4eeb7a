"""Erasing a customer's data, and two windows on one customer, as people do it."""

import pytest
from playwright.sync_api import expect

from jobs.models import Customer, Job
from tests.browser.faults import TABLET, assert_no_serious_faults
from tests.factories import CustomerFactory, JobFactory

pytestmark = pytest.mark.django_db


def test_a_customer_is_given_out_and_erased(page):
    customer = CustomerFactory(name="Orla Quenby", phone="555 0199 23")
    JobFactory(customer=customer, wish="For Mrs Quenby", state=Job.State.FINISHED)
    page.goto(customer.get_absolute_url())
    assert_no_serious_faults(page)
    page.get_by_text("This customer", exact=True).click()
    page.get_by_role("link", name="Erase personal data").click()
    with page.expect_download() as given:
        page.get_by_role("button", name="Download this customer's data").click()
    assert given.value.suggested_filename == f"dialside-customer-{customer.pk}.zip"
    page.get_by_label("The customer's name").fill("Orla")
    page.get_by_role("button", name="Erase for good").click()
    expect(page.get_by_text("“Orla” is not the name.")).to_be_visible()
    assert_no_serious_faults(page)
    page.get_by_label("The customer's name").fill("Orla Quenby")
    page.get_by_role("button", name="Erase for good").click()
    expect(page.get_by_role("heading", name=f"erased customer {customer.pk}")).to_be_visible()
    assert Job.objects.get().wish == "For Mrs [erased]"


@pytest.mark.parametrize("viewport", [TABLET], indirect=True)
def test_the_second_window_is_shown_both_versions(page):
    customer = CustomerFactory(name="Ben Alder", phone="555 0100")
    other = page.context.new_page()
    for window in (page, other):
        window.goto(f"/customers/{customer.pk}/edit/")
    page.get_by_label("Phone", exact=True).fill("555 0200")
    page.get_by_role("button", name="Save").click()
    expect(page.get_by_text("Customer saved.")).to_be_visible()
    other.get_by_label("Phone", exact=True).fill("555 0300")
    other.get_by_role("button", name="Save").click()
    expect(other.get_by_text("Saved now: 555 0200")).to_be_visible()
    expect(other.get_by_label("Phone", exact=True)).to_have_value("555 0300")
    assert_no_serious_faults(other)
    other.get_by_role("button", name="Save").click()
    expect(other.get_by_text("Customer saved.")).to_be_visible()
    assert Customer.objects.get().phone == "555 0300"
