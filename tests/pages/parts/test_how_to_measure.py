"""The cards on how to take a number: the page of all, one by itself, and beside the fields."""

import pytest
from django.urls import reverse

from parts.measuring.how import PARTS, cards_of, stations, ways
from tests.factories import CaseFactory, DialFactory

pytestmark = pytest.mark.django_db
ALL = reverse("parts:how-to-measure")


def card(client, path, **headers):
    return client.get(reverse("parts:card", args=[path]), **headers)


def test_the_page_has_every_card_with_the_order_and_the_methods(reader):
    page = reader.get(ALL).text
    for part in PARTS:
        for each in cards_of(part):
            assert f'id="{each.path}"' in page
    for station in stations():
        assert station.title in page
    for key, way in ways().items():
        assert f'id="{key}"' in page
        assert way.title in page


def test_one_card_comes_by_itself_with_its_sketch(reader):
    response = card(reader, "case.stem_axis_depth", headers={"HX-Request": "true"})
    assert "snug pin" in response.text
    assert "calliper ±0.07 mm, depth gauge ±0.03 mm, indicator ±0.03 mm" in response.text
    assert "1.20 to 3.80 mm" in response.text
    assert "M1 bridge and difference" in response.text
    assert 'id="outline-case-section"' in response.text
    assert "<html" not in response.text


def test_a_row_and_another_hand_have_the_card_of_the_first(reader):
    assert "root" in card(reader, "dial.feet[1].radius", headers={"HX-Request": "true"}).text
    assert "to the tip" in card(reader, "hands.minute.length", headers={"HX-Request": "true"}).text


def test_without_a_script_a_card_is_a_place_on_the_page(reader):
    assert card(reader, "case.bore_diameter").url == f"{ALL}#case.bore_diameter"


@pytest.mark.parametrize("path", ["case.colour", "case", "dial.window", "rules.gap_min", "spacer.thickness"])
def test_what_nobody_measures_has_no_card(reader, path):
    assert card(reader, path).status_code == 404


def test_cards_are_offered_beside_the_fields_and_come_on_demand(owner_client):
    case = owner_client.get(reverse("parts:edit", args=["cases", CaseFactory().pk])).text
    assert reverse("parts:card", args=["case.bore_diameter"]) in case
    assert "Put the calliper" not in case
    dial = owner_client.get(reverse("parts:edit", args=["dials", DialFactory().pk])).text
    assert dial.count(reverse("parts:card", args=["dial.feet[].angle"]) + '"') == 2
    quick = owner_client.get(reverse("parts:quick-new")).text
    assert reverse("parts:card", args=["case.crystal_gap_centre"]) in quick


@pytest.mark.parametrize(
    ("slug", "path"),
    [
        ("dials", "dial.subdials[].depth"),
        ("movements", "movement.subsidiary[].height"),
        ("hand-sets", "hands.subsidiary[].length"),
    ],
)
def test_lines_of_numbers_have_the_cards_of_their_numbers_beside_them(owner_client, slug, path):
    page = owner_client.get(f"/parts/{slug}/add/").text
    assert page.count(f'hx-get="{reverse("parts:card", args=[path])}"') == 1
