"""A case's numbers of crystal, back and gasket: typed on its form, told as advice on its page and in a fit check."""

import pytest

from parts.fit import check_sheet
from parts.models import Case
from parts.sheets import case_sheet, records_from_sheet, sheet_of
from tests.factories import CaseFactory
from tests.fit.sheets import sheet
from tests.pages.parts.test_part_entry import filled
from tests.reading import as_read

pytestmark = pytest.mark.django_db
NUMBERS = {"stated_pressure": 3.0, "back_material": "steel", "back_thickness": 0.5, "back_span": 28.0}


def test_nothing_shows_where_nothing_is_typed(owner_client):
    assert "nder pressure" not in owner_client.get(f"/parts/cases/{CaseFactory().pk}/").text


def test_typed_on_the_form_and_told_on_the_cases_page(owner_client):
    case = CaseFactory()
    edit = f"/parts/cases/{case.pk}/edit/"
    typed = {"stated_pressure": "3", "back_material": "steel", "back_thickness": "0.50 ±0.01", "back_span": "28.00"}
    owner_client.post(edit, filled(owner_client, edit, **typed))
    case = Case.objects.get()
    assert (case.back_material, case.back_thickness, case.back_thickness_pm) == ("steel", 0.5, 0.01)
    page = owner_client.get(f"/parts/cases/{case.pk}/").text
    assert "gives way by 0.08 mm with its edge held fast, by 0.33 mm where it only rests" in page
    assert "promise no water resistance" in page
    assert "Flat gaskets are not covered: no published limits of theirs are known here." in as_read(page)


def test_told_in_a_fit_check_with_what_is_left(owner_client):
    data = sheet()
    data["case"] |= NUMBERS | {"back_thickness": 0.8}
    pairing = records_from_sheet(data, name="pressed")
    assert sheet_of(pairing)["case"]["back_material"] == "steel"
    page = owner_client.get(f"/parts/pairings/{pairing.pk}/").text
    left = check_sheet(sheet())["back-gap"].value.value - 0.0811
    assert "Under 3.0 bar" in page
    assert f"{left:.2f} mm is left behind the movement" in page


def test_a_material_survives_the_sheet():
    case = CaseFactory(crystal_material="sapphire")
    assert case_sheet(case)["crystal_material"] == "sapphire"
    assert case_sheet(CaseFactory())["crystal_material"] is None
