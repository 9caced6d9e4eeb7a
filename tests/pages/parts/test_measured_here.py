"""A number measured on the part's own page: its line becomes a field, and the line again."""

import re

import pytest
from django.urls import reverse

from parts.models import Case
from tests.factories import CaseFactory, DialFactory, HandSetFactory
from tests.reading import as_read

pytestmark = pytest.mark.django_db
HTMX = {"HX-Request": "true"}


@pytest.fixture
def case():
    return CaseFactory(back_depth=None)


def here(part, path, kind="cases"):
    return reverse("parts:measured-here", args=[kind, part.pk, path])


def test_the_line_becomes_a_field_with_what_is_in_hand(owner_client, case):
    line = owner_client.get(here(case, "case.back_depth"), headers=HTMX).text
    assert line.strip().startswith('<tr id="case.back_depth">')
    assert 'name="text"' in line
    assert "A bare number takes calliper ±0.08 mm." in line
    assert 'name="in_hand"' in line


def test_it_is_stored_with_how_it_was_taken_and_comes_back_to_its_line(owner_client, case):
    response = owner_client.post(here(case, "case.back_depth"), {"text": "4.20 4.22 4.21", "stood": ""}, headers=HTMX)
    line = as_read(response.text)
    case.refresh_from_db()
    assert case.back_depth == 4.21
    assert case.taken["back_depth"]["readings"] == [4.2, 4.22, 4.21]
    assert "4.21 ±" in line
    assert "calliper, 3 readings" in line
    assert 'name="text"' not in line
    assert "autofocus" in line
    known = re.search(r'id="known" hx-swap-oob="true">(\d+ of \d+)', line)[1]
    assert known.endswith(" of 13")
    assert f'id="known">{known}' in as_read(owner_client.get(reverse("parts:detail", args=["cases", case.pk])).text)


def test_without_a_script_the_page_opens_with_the_field_and_comes_back_to_the_line(owner_client, case):
    page = owner_client.get(here(case, "case.back_depth")).text
    assert page.count('name="text"') == 1
    assert "<html" in page
    response = owner_client.post(here(case, "case.back_depth"), {"text": "4.20", "stood": ""})
    assert response.url == reverse("parts:detail", args=["cases", case.pk]) + "#case.back_depth"
    assert Case.objects.get().back_depth_pm == 0.08


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("deep", "“deep” is not a number"),
        ("", "Type the number that you measured."),
        ("500", "500.00 mm is out of range"),
    ],
)
@pytest.mark.parametrize("headers", [HTMX, {}])
def test_a_fault_stands_by_the_field_and_nothing_typed_is_lost(owner_client, case, text, told, headers):
    response = owner_client.post(here(case, "case.back_depth"), {"text": text, "stood": ""}, headers=headers)
    assert response.status_code == (200 if headers else 422)
    assert told in response.text
    assert f'value="{text}"' in response.text
    assert 'aria-invalid="true"' in response.text
    assert Case.objects.get().back_depth is None


def test_a_number_that_contradicts_the_others_is_refused(owner_client, case):
    line = owner_client.post(
        here(case, "case.dial_opening_diameter"),
        {"text": "41.00", "stood": case.dimensions["dial_opening_diameter"].shown(case)},
        headers=HTMX,
    ).text
    assert "41.00 mm does not work" in line or "does not work" in line
    assert Case.objects.get().dial_opening_diameter == case.dial_opening_diameter


def test_what_somebody_else_stored_meanwhile_is_told_and_not_lost(owner_client, case):
    Case.objects.update(back_depth=4.5)
    line = owner_client.post(here(case, "case.back_depth"), {"text": "4.20", "stood": ""}, headers=HTMX).text
    assert "Someone changed this: now 4.50" in line
    assert Case.objects.get().back_depth == 4.5
    shown = Case.dimensions["back_depth"].shown(Case.objects.get())
    owner_client.post(here(case, "case.back_depth"), {"text": "4.20", "stood": shown}, headers=HTMX)
    assert Case.objects.get().back_depth == 4.2


def test_each_hand_of_a_set_has_its_own_lines(owner_client):
    hands = HandSetFactory()
    owner_client.post(
        here(hands, "hands.minute.tail", "hand-sets"),
        {
            "text": "2.5 ±0.1",
            "stood": hands.hands.get(role="minute").dimensions["tail"].shown(hands.hands.get(role="minute")),
        },
        headers=HTMX,
    )
    assert hands.hands.get(role="minute").tail == 2.5
    assert hands.hands.get(role="hour").tail != 2.5


def test_rows_of_a_list_and_what_is_not_there_have_no_line(owner_client, case):
    dial = DialFactory()
    for part, path, kind in (
        (dial, "dial.feet[0].radius", "dials"),
        (case, "case.colour", "cases"),
        (case, "case", "cases"),
    ):
        assert owner_client.get(here(part, path, kind)).status_code == 404


def test_another_instrument_in_hand_keeps_what_is_typed(owner_client, case):
    depth = next(
        each
        for each in owner_client.get(here(case, "case.back_depth")).context["hand"].instruments
        if each.kind == "depth"
    )
    line = owner_client.post(
        here(case, "case.back_depth"), {"text": "4.2", "stood": "", "in_hand": depth.pk, "look": "1"}, headers=HTMX
    ).text
    assert 'value="4.2"' in line
    assert "±0.04" in line
    assert Case.objects.get().back_depth is None


def test_a_reader_sees_no_field(reader, case):
    page = reader.get(reverse("parts:detail", args=["cases", case.pk])).text
    assert "measured/case.back_depth" not in page
    assert reader.get(here(case, "case.back_depth")).status_code == 403
    assert reader.post(here(case, "case.back_depth"), {"text": "4.2", "stood": ""}).status_code == 403


def test_the_page_offers_each_number_and_doubts_an_unusual_one(owner_client, case):
    case.bore_diameter = 45.0
    case.save()
    page = owner_client.get(reverse("parts:detail", args=["cases", case.pk])).text
    assert here(case, "case.back_depth") in page
    assert "Look again: 14.00 to 42.00 mm is usual." in page
