"""A form that comes back with something wrong: the first wrong field is in view and has the focus, on any page."""

import pytest
from playwright.sync_api import expect

from tests.factories import CaseFactory, CustomerFactory

WRONG = {
    "bench rules": ("/shop/rules/?q=gap", {"gap_min": "wide"}, "gap_min"),
    "settings": ("/shop/", {"deposit": "400"}, "deposit"),
    "a customer": ("/customers/{customer}/edit/", {"name": "", "email": "nobody"}, "name"),
    "a part": ("/parts/cases/{case}/edit/", {"back_depth": "deep"}, "back_depth"),
    "a watch": ("/jobs/log/", {"customer": "Ada", "phone": "1", "wish": ""}, "wish"),
}


@pytest.mark.parametrize("typed", WRONG.values(), ids=WRONG)
def test_the_first_wrong_field_has_the_focus(page, live_server, typed):
    address, texts, wrong = typed
    page.goto(live_server.url + address.format(customer=CustomerFactory().pk, case=CaseFactory().pk))
    for name, text in texts.items():
        page.locator(f"main form [name={name}]").fill(text)
    page.locator(f"main form:has([name={wrong}])").evaluate("form => { form.noValidate = true; form.requestSubmit(); }")
    field = page.locator(f"main form [name={wrong}][aria-invalid=true]")
    expect(field).to_be_focused()
    expect(field).to_be_in_viewport()
