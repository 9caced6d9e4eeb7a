"""The page of the shop's instruments, and the one in hand."""

import pytest

from parts.models import Case, Instrument
from tests.factories import CaseFactory
from tests.pages.parts.test_part_entry import filled

PAGE = "/parts/instruments/"


def typed(client, **changes):
    """What a browser would send of the page, with some of it changed."""
    drawer = client.get(PAGE).context["drawer"]
    forms = [drawer.formset.management_form, *drawer.formset.forms]
    data = {field.html_name: "" if field.value() is None else str(field.value()) for form in forms for field in form}
    return data | {"stamp": drawer.stamp} | changes


def in_hand(name):
    return {"in_hand": str(Instrument.objects.get(name=name).pk)}


def test_a_new_workshop_has_the_usual_ones(owner_client):
    page = owner_client.get(PAGE)
    assert [each.name for each in Instrument.objects.all()][:4] == ["Calliper", "Micrometer", "Depth gauge", "Pins"]
    assert 'value="Calliper"' in page.text
    assert "no source" in page.text


def test_one_is_changed_and_another_added(hand):
    new = {"name": "Dial thickness gauge", "kind": "indicator", "limit_mm": "0,02", "step_mm": "0.01"}
    count = Instrument.objects.count()
    data = typed(hand, **{f"instrument-{count}-{name}": value for name, value in new.items()})
    assert hand.post(PAGE, data | {"instrument-0-limit_mm": "0.05"}).status_code == 302
    assert Instrument.objects.get(name="Calliper").limit_mm == 0.05
    made = Instrument.objects.get(name="Dial thickness gauge")
    assert (made.kind, made.limit_mm, made.step_mm, made.limit_deg, made.position) == (
        "indicator",
        0.02,
        0.01,
        None,
        100,
    )


def test_saving_the_page_as_it_stands_changes_nothing(owner_client):
    before = list(Instrument.objects.values())
    assert owner_client.post(PAGE, typed(owner_client)).status_code == 302
    assert list(Instrument.objects.values()) == before


@pytest.mark.parametrize(
    ("value", "says"), [("0", "out of range"), ("far", "not a number"), ("", "instrument-0-limit_mm")]
)
def test_a_limit_that_cannot_be_is_refused_on_its_field(owner_client, value, says):
    page = owner_client.post(PAGE, typed(owner_client, **{"instrument-0-limit_mm": value}))
    assert page.status_code == 422
    assert list(page.context["drawer"].formset.errors[0]) == ["limit_mm"]
    assert says in page.text
    assert Instrument.objects.first().limit_mm == 0.03


def test_a_page_older_than_what_is_saved_is_told(owner_client):
    data = typed(owner_client, **{"instrument-1-limit_mm": "0.02"})
    Instrument.objects.filter(name="Calliper").update(limit_mm=0.04)
    page = owner_client.post(PAGE, data)
    assert page.status_code == 422
    assert "Someone changed this after you opened it." in page.text
    assert Instrument.objects.get(name="Micrometer").limit_mm == 0.01


def test_an_archived_one_is_not_offered_and_comes_back(hand):
    calliper = Instrument.objects.get(name="Calliper")
    hand.post(f"{PAGE}{calliper.pk}/put-away/")
    assert "Calliper ±" not in hand.get("/parts/cases/add/").text
    assert "Bring back Calliper" in hand.get(PAGE).text
    hand.post(f"{PAGE}{calliper.pk}/put-away/", {"do": "bring-back"})
    assert "Calliper ±0.03 mm" in hand.get("/parts/cases/add/").text


def test_a_reader_looks_and_changes_nothing(reader):
    assert reader.get(PAGE).status_code == 200
    assert reader.post(PAGE, {}).status_code == 403


def test_a_bare_number_takes_the_limit_of_what_is_in_hand_or_of_what_its_kind_does_there(owner_client):
    add = "/parts/cases/add/"
    by_calliper = {"name": "a", "bore_diameter": "27.40", "tube_outer_diameter": "2.50", "stem_angle": "90"}
    owner_client.post(add, filled(owner_client, add, **by_calliper))
    case = Case.objects.get(name="a")
    assert (case.bore_diameter_pm, case.tube_outer_diameter_pm, case.stem_angle_pm) == (0.05, 0.03, 2.0)
    assert case.taken["bore_diameter"] == {"instrument": "Calliper"}
    assert case.taken["stem_angle"] == {"instrument": "By eye"}


def test_what_is_in_hand_is_remembered(owner_client):
    add = "/parts/cases/add/"
    owner_client.post(add, filled(owner_client, add, name="a", bore_diameter="27.40", **in_hand("Step discs")))
    owner_client.post(add, filled(owner_client, add, name="b", bore_diameter="27.40"))
    assert {case.taken["bore_diameter"]["instrument"] for case in Case.objects.all()} == {"Step discs"}
    assert {case.bore_diameter_pm for case in Case.objects.all()} == {0.02}


def test_what_is_no_instrument_of_the_shop_is_not_in_hand(owner_client):
    add = "/parts/cases/add/"
    owner_client.post(add, filled(owner_client, add, name="a", bore_diameter="27.40", in_hand="999"))
    assert Case.objects.get().taken["bore_diameter"]["instrument"] == "Calliper"


@pytest.mark.parametrize(
    ("source", "name", "plus_minus"), [("s", "Maker's sheet", 0.02), ("e", "By eye", 0.2), ("m", "Calliper", 0.05)]
)
def test_a_number_from_elsewhere_takes_the_plus_minus_of_that(owner_client, source, name, plus_minus):
    add = "/parts/cases/add/"
    data = filled(owner_client, add, name="a", bore_diameter="27.40", bore_diameter_source=source)
    owner_client.post(add, data)
    case = Case.objects.get()
    assert (case.bore_diameter_source, case.bore_diameter_pm) == (source, plus_minus)
    assert case.taken["bore_diameter"]["instrument"] == name


def test_with_the_makers_sheet_in_hand_numbers_come_from_it(owner_client):
    add = "/parts/cases/add/"
    owner_client.post(add, filled(owner_client, add, name="a", bore_diameter="27.40", **in_hand("Maker's sheet")))
    assert Case.objects.get().bore_diameter_source == "s"


def test_a_number_that_is_not_touched_stays_as_it_was(owner_client):
    case = CaseFactory(bore_diameter=27.4, bore_diameter_pm=0.0, bore_diameter_source="e")
    address = f"/parts/cases/{case.pk}/edit/"
    owner_client.post(address, filled(owner_client, address, back_depth="4.90"))
    case.refresh_from_db()
    assert (case.bore_diameter, case.bore_diameter_pm, case.bore_diameter_source) == (27.4, 0.0, "e")
    assert (case.back_depth, case.back_depth_pm) == (4.9, 0.08)
    assert list(case.taken) == ["back_depth"]


def test_readings_and_directions_are_shown_on_the_parts_page(owner_client):
    add = "/parts/cases/add/"
    data = {
        "name": "a",
        "bore_diameter": "27.40/27.42",
        "back_depth": "4.80 4.82 4.81",
        "tube_bore_diameter": "0.88<0.89",
    }
    page = owner_client.post(add, filled(owner_client, add, **data), follow=True)
    case = Case.objects.get()
    assert (case.bore_diameter, case.bore_diameter_pm) == (27.4, 0.06)
    assert "calliper, 2 directions, 0.02 oval" in page.text
    assert "calliper, 3 readings" in page.text
    assert "pins, 0.88 goes, 0.89 does not" in page.text
    address = f"/parts/cases/{case.pk}/edit/"
    owner_client.post(address, filled(owner_client, address))
    before, case = case.taken, Case.objects.get()
    assert case.taken == before
    owner_client.post(address, filled(owner_client, address, bore_diameter=""))
    assert "bore_diameter" not in Case.objects.get().taken
    owner_client.post(f"/parts/cases/{case.pk}/copy/")
    assert Case.objects.get(name="a, copy").taken["back_depth"]["readings"] == [4.8, 4.82, 4.81]


def test_where_a_number_comes_from_is_said_anew_without_its_readings(owner_client):
    add = "/parts/cases/add/"
    owner_client.post(add, filled(owner_client, add, name="a", bore_diameter="27.40 27.42"))
    address = f"/parts/cases/{Case.objects.get().pk}/edit/"
    owner_client.post(address, filled(owner_client, address, bore_diameter_source="s"))
    case = Case.objects.get()
    assert (case.bore_diameter_source, case.taken) == ("s", {})


@pytest.mark.parametrize(
    "wrong", [{"instrument-0-id": ""}, {"instrument-INITIAL_FORMS": "40", "instrument-TOTAL_FORMS": "40"}]
)
def test_a_form_that_says_more_than_there_is_gets_an_answer(owner_client, wrong):
    response = owner_client.post(PAGE, typed(owner_client, **wrong) | {"instrument-0-limit_mm": "wide"})
    assert response.status_code == 422
    assert "wide" in response.text
