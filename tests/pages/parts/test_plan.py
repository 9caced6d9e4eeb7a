"""The best plan: movement, hands, stem and crown found together for a case and a dial."""

import re

import pytest

from parts.models import HandSet, Movement
from tests.factories import (
    CaseFactory,
    CrownFactory,
    DialFactory,
    HandSetFactory,
    MovementFactory,
    PairingFactory,
    StemFactory,
)

HERE = "/parts/goes-in/plan/"


@pytest.fixture
def whole(db):
    """A saved fit check, whose parts are the library, and a movement too wide for its case."""
    MovementFactory(name="wide one", overall_diameter=40.0)
    pairing = PairingFactory(movement=MovementFactory(name="good one", in_stock=2))
    HandSet.objects.filter(pk=pairing.hands_id).update(in_stock=0)
    return pairing


def address(pairing, **more):
    given = {"case": pairing.case_id, "dial": pairing.dial_id} | more
    return HERE + "?" + "&".join(f"{name}={value}" for name, value in given.items())


def words(response):
    return re.sub(r"\s+", " ", re.sub(r"<[^>]*>", " ", response.text))


def test_asks_first_for_a_case_and_its_dial(owner_client, whole):
    for start in (HERE, f"{HERE}?case={whole.case_id}"):
        response = owner_client.get(start)
        assert "Choose a case and its dial" in response.text
        assert "front" not in response.context


def test_a_plan_with_its_parts_chance_minutes_and_what_to_get(owner_client, whole):
    response = owner_client.get(address(whole))
    (line,) = response.context["lines"]
    assert (line.plan.pairing.movement.name, line.plan.cost, line.chance) == ("good one", 3, "100 of 100 cases")
    said = words(response)
    assert "1 plan for" in said
    assert "All 2 combinations in the library were checked." in said
    assert "fits in 100 of 100 cases" in said
    assert "3 to make or buy" in said
    assert "none in stock" in said
    assert f"Hand set {whole.hands}: none in stock." in said
    assert f"Stem {whole.stem}: stock not counted." in said
    assert "Spacer none" in said


def test_a_plan_leads_to_the_fit_check_of_exactly_its_parts(owner_client, whole):
    own = HandSetFactory(name="own", archived=False)
    Movement.objects.filter(name="wide one").delete()
    HandSet.objects.filter(pk=own.pk).update(in_stock=1)
    response = owner_client.get(address(whole, seconds_hand_from=own.pk))
    line = response.context["lines"][0]
    assert "seconds_hand_from=" in line.given_address
    there = owner_client.get(f"/parts/pairings/new/?{line.given_address}")
    assert f'href="/parts/pairings/new/?{line.given_address}"'.replace("&", "&amp;") in response.text
    pairing = there.context["pairing"]
    assert pairing.part_keys == line.plan.pairing.part_keys
    assert there.context["report"].verdict == line.plan.report.verdict
    assert "stays" in words(response)


def test_what_stays_is_in_every_plan(owner_client, whole):
    other = StemFactory(length=12.0, in_stock=5)
    lines = owner_client.get(address(whole, stem=whole.stem_id)).context["lines"]
    assert {line.plan.pairing.stem_id for line in lines} == {whole.stem_id}
    lines = owner_client.get(address(whole)).context["lines"]
    assert {line.plan.pairing.stem_id for line in lines} == {other.pk}


def test_plans_that_lack_a_number_stand_apart_with_what_to_measure(owner_client, whole):
    Movement.objects.filter(name="good one").update(stem_axis_depth=None)
    response = owner_client.get(address(whole))
    assert response.context["lines"] == []
    said = words(response)
    assert "No plan decided yet for" in said
    assert "Measure next: movement stem axis depth" in said
    assert "not known yet" in said


def test_says_so_where_nothing_fits(owner_client, whole):
    response = owner_client.get(address(whole, **{"what-if:case.bore_diameter": "20"}))
    assert "No plan fits" in words(response)
    assert "what stands in the way of each movement" in words(response)


def test_an_empty_library_is_told_what_it_lacks(owner_client, db):
    case, dial = CaseFactory(), DialFactory()
    response = owner_client.get(f"{HERE}?case={case.pk}&dial={dial.pk}")
    assert "The library still lacks: movements , hand sets , stems , crowns" in words(response)
    assert "/parts/movements/add/" in response.text


def test_a_case_that_contradicts_itself_is_told(owner_client, whole):
    said = words(owner_client.get(address(whole, **{"what-if:case.bore_diameter": "41"})))
    assert "These numbers contradict each other." in said
    assert "the crown would sit inside the bore" in said


@pytest.mark.parametrize("case", ["999999", "abc"])
def test_a_part_that_is_not_there_is_said_beside_its_field(owner_client, whole, case):
    response = owner_client.get(f"{HERE}?case={case}&dial={whole.dial_id}")
    assert (response.status_code, "That part is no longer in the library" in response.text) == (200, True)
    assert "front" not in response.context


def test_a_number_that_cannot_be_read_is_left_out_and_said(owner_client, whole):
    response = owner_client.get(address(whole, **{"what-if:case.bore_diameter": "wide"}))
    assert "Ignored:" in response.text
    assert 'value="wide"' in response.text
    assert len(response.context["lines"]) == 1


def test_an_answer_to_htmx_is_the_plans_alone(owner_client, whole):
    response = owner_client.get(address(whole), headers={"HX-Request": "true"})
    assert "<html" not in response.text
    assert len(response.context["lines"]) == 1


def test_begins_with_a_saved_fit_check_or_a_case_family(owner_client, whole):
    whole.seconds_hand_from = HandSetFactory()
    whole.what_if = {"case.bore_diameter": "26.3", "hands.hour.length": "7"}
    whole.save()
    stays = f"case={whole.case_id}&dial={whole.dial_id}"
    assert owner_client.get(f"{HERE}?pairing={whole.pk}").url == (
        f"{HERE}?{stays}&seconds_hand_from={whole.seconds_hand_from_id}&what-if%3Acase.bore_diameter=26.3"
    )
    assert owner_client.get(f"{HERE}?family={whole.case.family_id}").url == f"{HERE}?{stays}"
    assert owner_client.get(f"{HERE}?pairing=x").status_code == 404


def test_the_other_pages_lead_here(owner_client, whole):
    ranking = owner_client.get(f"/parts/goes-in/?case={whole.case_id}&dial={whole.dial_id}&crown={whole.crown_id}")
    assert f'href="{address(whole, crown=whole.crown_id)}"'.replace("&", "&amp;") in ranking.text
    assert f'href="{HERE}"' in owner_client.get("/parts/goes-in/cases/").text
    assert f'href="{HERE}?pairing={whole.pk}"' in owner_client.get(f"/parts/pairings/{whole.pk}/").text


def test_the_number_of_queries_does_not_grow(owner_client, whole, django_assert_max_num_queries):
    CrownFactory.create_batch(3), HandSetFactory.create_batch(4)
    with django_assert_max_num_queries(70):
        owner_client.get(address(whole))
