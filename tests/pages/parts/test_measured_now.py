"""A number measured where the fit check asks for it, stored with its part."""

import pytest
from django.urls import reverse

from jobs.options import choosing
from parts.models import Instrument, Pairing
from parts.models.pairing import OTHER_HANDS, PARTS, TRIED
from tests.factories import JobFactory, PairingFactory
from tests.pages.parts.test_part_entry import filled

pytestmark = pytest.mark.django_db
HTMX = {"hx-request": "true"}


@pytest.fixture
def pairing():
    pairing = PairingFactory()
    case = pairing.case
    case.back_depth = None
    case.save()
    return pairing


def post(client, pairing, path, text, **rest):
    data = {name: getattr(pairing, f"{name}_id") or "" for name in PARTS}
    data |= {"store": path, f"measured:{path}": text, "placement": "auto", "name": pairing.name}
    return client.post(reverse("parts:measured", args=[pairing.pk]), data | rest)


def test_the_field_stands_by_what_to_measure_next(owner_client, pairing):
    page = owner_client.get(reverse("parts:pairing", args=[pairing.pk])).text
    assert 'name="measured:case.back_depth"' in page


def test_what_is_typed_on_a_parts_page_leads_back_to_the_fit_check_that_asked_for_it(owner_client, pairing):
    """Foot holes are a list of the movement: they have no field of their own by what to measure next."""
    type(pairing.movement).objects.update(foot_holes_recorded=False)
    page = owner_client.get(reverse("parts:pairing", args=[pairing.pk])).text
    edit = reverse("parts:edit", args=["movements", pairing.movement_id])
    assert f'href="{edit}?fit_check={pairing.pk}"' in page
    form = owner_client.get(edit, {"fit_check": pairing.pk})
    assert f'<input type="hidden" name="fit_check" value="{pairing.pk}">' in form.text
    here = reverse("parts:pairing", args=[pairing.pk])
    assert f'href="{here}"' in form.text
    sent = owner_client.post(edit, filled(owner_client, edit) | {"fit_check": pairing.pk})
    assert (sent.status_code, sent.url) == (302, here)
    for nothing in ("", "x", "999999"):
        sent = owner_client.post(edit, filled(owner_client, edit) | {"fit_check": nothing})
        assert sent.url == reverse("parts:detail", args=["movements", pairing.movement_id])


def test_it_is_stored_with_the_instruments_plus_minus_and_answered_at_once(owner_client, pairing):
    response = post(owner_client, pairing, "case.back_depth", "4.20")
    assert response.status_code == 200
    pairing.case.refresh_from_db()
    assert (pairing.case.back_depth, pairing.case.back_depth_pm) == (4.20, 0.08)
    assert pairing.case.taken["back_depth"]["instrument"] == "Calliper"
    assert response.context["report"]["back-gap"].verdict != "unclear"


def test_what_was_chosen_on_the_page_stays_and_a_number_to_try_for_it_goes(owner_client, pairing):
    tried = {"what-if:case.back_depth": "5", "what-if:stem.length": "7.10"}
    response = post(owner_client, pairing, "case.back_depth", "4.20", **tried)
    assert 'value="7.10"' in response.text
    assert response.context["pairing"].what_if == {"stem.length": "7.10"}


@pytest.mark.parametrize(
    ("path", "text", "told"),
    [
        ("case.back_depth", "deep", "“deep” is not a number"),
        ("case.back_depth", "", "Type the number that you measured."),
        ("case.back_depth", "500", "500.00 mm is out of range"),
        ("dial.feet[0].radius", "9", "stands in a list of its part"),
    ],
)
def test_what_cannot_be_stored_is_said(owner_client, pairing, path, text, told):
    response = post(owner_client, pairing, path, text)
    assert response.status_code == 200
    assert told in response.context["measured_fault"][2]
    pairing.case.refresh_from_db()
    assert pairing.case.back_depth is None


def test_an_unknown_path_is_no_fault_of_the_program(owner_client, pairing):
    for path in ("case.nonsense", "nonsense", "", "rules.gap_min", "hands.fourth.length"):
        response = post(owner_client, pairing, path, "1")
        assert "No part has a number like that." in response.context["measured_fault"][2]


def test_of_a_job_the_page_goes_on_with_the_copy_that_the_number_went_into(owner_client, owner):
    shared, job = PairingFactory(), JobFactory()
    own = choosing.add_option(job=job, pairing=Pairing.objects.get(pk=shared.pk), by=owner).pairing
    data = {name: getattr(own, f"{name}_id") or "" for name in (*PARTS, *OTHER_HANDS)}
    data |= {name: getattr(own, name) for name in TRIED} | {"placement": "auto", "name": own.name, "notes": ""}
    data |= {"store": "case.back_depth", "measured:case.back_depth": "3.80"}
    answer = owner_client.post(reverse("jobs:measured-now", args=[job.number, own.pk]), data, headers=HTMX)
    copy = Pairing.objects.get(pk=own.pk).case
    assert copy.pk != shared.case_id
    assert answer.context["pairing"].case == copy
    assert answer.context["report"]["back-gap"].verdict == "no"
    assert f'<input type="hidden" name="case" value="{copy.pk}">' in answer.text
    assert not owner_client.get(reverse("parts:pairing", args=[own.pk])).context["is_unsaved"]


def too_close(pairing, plus_minus):
    """Leave the back's depth as all that is open, this well measured."""
    pairing.case.back_depth, pairing.case.back_depth_pm = 3.90, plus_minus
    pairing.case.save()
    return reverse("parts:pairing", args=[pairing.pk])


def test_a_number_that_the_shop_takes_closer_is_asked_for_with_what_takes_it(owner_client, pairing):
    page = owner_client.get(too_close(pairing, 0.15)).text
    assert 'name="measured:case.back_depth"' in page
    assert "take it better, with depth gauge ±0.04 mm" in " ".join(page.split())


def test_a_number_that_no_instrument_of_the_shop_takes_closer_is_not_asked_for(owner_client, pairing):
    address = too_close(pairing, 0.04)
    page = owner_client.get(address).text
    assert 'name="measured:case.back_depth"' not in page
    assert "Measure next" not in page
    assert "Next, measure" not in page
    assert "Measured as closely as your instruments can" in page
    assert "?try=case.back_depth" in page
    Instrument.objects.create(name="Long gauge", kind="other", limit_mm=0.01)
    assert 'name="measured:case.back_depth"' in owner_client.get(address).text
