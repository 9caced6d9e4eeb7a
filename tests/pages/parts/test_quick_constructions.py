"""The quick check of watches that are not round, and of small seconds: first what they are, then what that needs."""

import re
from uuid import uuid4

import pytest
from django.urls import reverse

from parts.models import Case, Dial, HandSet, Movement, Pairing
from parts.pairings.answer import answer
from parts.quick.asked import LETTERS
from parts.quick.keeping import pieces_of, proposed_names
from parts.sheets import sheet_of
from tests.factories import CaseFactory, HandSetFactory, MovementFactory
from tests.quick_numbers import CASE, DIAL, PICKED, RECTANGLE, SMALL_SECONDS, sent

pytestmark = pytest.mark.django_db
SHAPED = PICKED | {"case.shape": "rectangle"}
SMALL_PICKED = PICKED | {"dial.subdials": "is", "movement.subsidiary": "is", "hands.seconds": "none"}
EVERYDAY = [
    *("case.bore_diameter", "case.dial_opening_diameter", "case.stem_axis_depth", "case.back_depth"),
    *("case.stem_angle", "dial.thickness", "dial.centre_hole_diameter", "case.crystal_gap_centre"),
]
"""What is asked, and not folded, of an everyday conversion with its own dial, without parts to come."""


@pytest.fixture
def key():
    return uuid4()


@pytest.fixture
def address(key):
    return reverse("parts:quick", args=[key])


def draft(key):
    return Pairing.objects.with_parts().get(draft_key=key)


def asked(page):
    return re.findall(r'name="n:([^"]+)"', page)


def clear_of(report):
    return {check.key: check.verdict for check in report.checks if check.must and check.verdict != "unclear"}


def test_of_a_round_watch_as_much_is_asked_as_ever(owner_client, address):
    response = owner_client.post(address, sent({}, PICKED), follow=True)
    counted = [line.asked.path for station in response.context["counted"] for line in station.lines]
    assert counted == EVERYDAY
    assert not [path for path in asked(response.text) if "outline" in path or "sub" in path]
    assert [LETTERS[False][path] for path in (*EVERYDAY[:2], "dial.diameter", "case.crystal_gap_centre")] == [*"ACGN"]


def test_a_rectangular_case_is_asked_for_width_height_and_corner_in_place_of_diameters(owner_client, address):
    response = owner_client.post(address, sent({}, SHAPED), follow=True)
    page = response.text
    assert {"case.bore_outline.width", "case.bore_outline.height", "case.bore_outline.corner"} <= {*asked(page)}
    assert not {"case.bore_diameter", "case.dial_opening_diameter", "dial.diameter", "gauge.reach"} & {*asked(page)}
    assert not {"case.seat_outline.width", "dial.outline.width", "movement.outline.width"} & {*asked(page)}
    assert {"movement.overall_diameter"} <= {*asked(page)}
    assert [response.context["next"][key] for key in ("letter", "words")] == ["A", "bore, width"]
    own = owner_client.post(address, sent({}, {"dial.own_case": ""}), follow=True).text
    assert {"case.seat_outline.corner", "dial.outline.width", "dial.outline.corner"} <= {*asked(own)}


def test_an_oval_has_no_corners_and_a_dial_may_be_of_another_shape_than_its_case(owner_client, address):
    page = owner_client.post(address, sent({}, {"case.shape": "oval"}), follow=True).text
    assert {"case.bore_outline.height", "dial.outline.height"} <= {*asked(page)}
    assert not [path for path in asked(page) if path.endswith(".corner")]
    page = owner_client.post(address, sent({}, {"dial.shape": "round"}), follow=True).text
    assert "dial.diameter" in asked(page)
    assert "dial.outline.width" not in asked(page)


def test_a_rectangular_watch_is_answered_by_its_own_case_and_dial_and_parts_of_the_library(owner_client, address, key):
    movement = MovementFactory(overall_diameter=20.0, fit_diameter=19.8)
    hands = HandSetFactory()
    numbers = RECTANGLE | DIAL
    owner_client.post(
        address, sent(numbers, SHAPED | {"hands.seconds": "none"}, movement=movement.pk, hands=hands.pk), follow=True
    )
    report = answer(draft(key)).report
    assert [check.key for check in report.checks if check.must and check.verdict == "unclear"] == []
    assert report["case-bore"].value.value == pytest.approx(2.0)
    assert report["holder-wall"].value.value == pytest.approx(1.05, abs=0.06)
    assert report["dial-seat"].sentence == "The dial came out of this case."
    assert len(numbers) <= 25


def test_what_is_still_missing_of_an_outline_is_what_is_next(owner_client, address):
    numbers = {path: text for path, text in RECTANGLE.items() if path != "case.bore_outline.height"}
    page = owner_client.post(address, sent(numbers | DIAL, SHAPED, movement=MovementFactory().pk), follow=True)
    assert page.context["next"]["field"] == "n:case.bore_outline.height"
    assert (page.context["next"]["letter"], page.context["next"]["path"]) == ("A", "case.bore_outline.height")
    marks = {mark.letter: mark.state for mark in page.context["marks"]}
    assert (marks["A"], marks["C"]) == ("here", "in")


def test_a_rectangular_movement_is_typed_by_its_width_and_height(owner_client, address, key):
    grip = {
        "movement.fit_outline.width": "17.4",
        "movement.fit_outline.height": "23.4",
        "movement.fit_outline.corner": "0",
    }
    sizes = {"movement.outline.width": "17.5", "movement.outline.height": "23.5", "movement.outline.corner": "0"}
    owner_client.post(address, sent(RECTANGLE | sizes | grip, SHAPED | {"movement.shape": "rectangle"}))
    report = answer(draft(key)).report
    assert report["case-bore"].value.value == pytest.approx(4.5)


def test_round_again_it_counts_what_was_typed_for_round_and_forgets_nothing(owner_client, address, key):
    owner_client.post(address, sent({"case.bore_diameter": "29.60"}))
    owner_client.post(address, sent({"case.bore_outline.width": "22"}, {"case.shape": "rectangle"}))
    assert "bore_diameter" not in sheet_of(draft(key))["case"]
    page = owner_client.post(address, sent({}, {"case.shape": ""}), follow=True).text
    assert "bore_outline" not in sheet_of(draft(key))["case"]
    assert 'value="29.60"' in page
    page = owner_client.post(address, sent({}, {"case.shape": "rectangle"}), follow=True).text
    assert re.search(r'name="n:case.bore_outline.width" value="22"', page)


def test_kept_as_parts_a_rectangular_watch_answers_the_same(owner_client, address, key):
    dial = {"dial.outline.width": "21.5", "dial.outline.height": "29.5", "dial.outline.corner": "1.8"}
    picks = SHAPED | {"dial.own_case": ""}
    movement = MovementFactory(overall_diameter=20.0, fit_diameter=19.8)
    owner_client.post(address, sent(RECTANGLE | DIAL | dial, picks, movement=movement.pk, hands=HandSetFactory().pk))
    before = answer(draft(key)).report
    owner_client.post(reverse("parts:quick-keep", args=[key]), {"name": "A", "case": "polished", "dial": "white"})
    case, made = Case.objects.get(name="polished"), Dial.objects.get(name="white")
    assert case.bore_outline == {
        "shape": "rectangle",
        "width": [22.0, 0.03],
        "height": [30.0, 0.03],
        "corner": [2.0, 0.2],
    }
    assert case.seat_outline is None
    assert made.outline["height"][0] == 29.5
    assert clear_of(answer(Pairing.objects.with_parts().get(name="A")).report) == clear_of(before)


def test_a_dial_typed_for_a_rectangular_case_of_the_library_is_rectangular(owner_client, address, key):
    outline = {"shape": "rectangle", "width": 22.0, "height": 30.0, "corner": 2.0}
    case = CaseFactory(bore_diameter=None, dial_seat_diameter=None, dial_opening_diameter=None, seat_outline=outline)
    page = owner_client.post(address, sent({"dial.outline.width": "21.5"}, case=case.pk), follow=True).text
    assert "dial.outline.height" in asked(page)
    assert sheet_of(draft(key))["dial"]["outline"]["shape"] == "rectangle"
    assert "dial.outline.height" not in asked(owner_client.post(address, {"case": CaseFactory().pk}, follow=True).text)


def test_small_seconds_are_asked_for_once_they_are_picked(owner_client, address):
    assert not {*SMALL_SECONDS} & {*asked(owner_client.post(address, sent({}, PICKED), follow=True).text)}
    page = owner_client.post(address, sent({}, SMALL_PICKED), follow=True).text
    assert {*SMALL_SECONDS} <= {*asked(page)}


def test_small_seconds_are_answered_and_kept(owner_client, address, key):
    owner_client.post(address, sent(CASE | DIAL | SMALL_SECONDS | {"hands.hour.length": "8"}, SMALL_PICKED))
    report = answer(draft(key)).report
    assert report["sub-place"].value.value == pytest.approx(0.0)
    assert report["sub-post"].verdict != "unclear"
    names = {"name": "A", "case": "steel", "dial": "white", "movement": "Fennel", "hands": "Leaf"}
    owner_client.post(reverse("parts:quick-keep", args=[key]), names)
    assert Movement.objects.get().subsidiary[0]["name"] == "small seconds"
    assert [*HandSet.objects.get().subsidiary] == ["small seconds"]
    kept = answer(Pairing.objects.with_parts().get(name="A")).report
    assert clear_of(kept) == clear_of(report)


def test_typed_small_seconds_are_called_as_those_of_the_movement_that_is_chosen(owner_client, address, key):
    post = {"name": "seconds at 6", "angle": 90, "radius": 5.0, "diameter": 0.25, "height": 1.0}
    movement = MovementFactory(subsidiary=[post])
    numbers = {path: text for path, text in SMALL_SECONDS.items() if not path.startswith("movement")}
    picks = PICKED | {"dial.subdials": "is", "hands.seconds": "none"}
    page = owner_client.post(address, sent(CASE | DIAL | numbers, picks, movement=movement.pk), follow=True).text
    assert "hands.subsidiary[0].length" in asked(page)
    report = answer(draft(key)).report
    assert report["sub-place"].value.value == pytest.approx(0.0)


def test_the_watchs_own_small_seconds_hand_beside_a_set_becomes_a_set_of_its_own(owner_client, address, key):
    small = {"hole_diameter": 0.3, "length": 3.0, "hub_height": 0.5}
    leaf = HandSetFactory(name="Leaf", seconds=False, subsidiary={"small seconds": small})
    page = owner_client.post(address, sent(CASE | DIAL | SMALL_SECONDS, SMALL_PICKED, hands=leaf.pk), follow=True).text
    assert "hands.subsidiary[0].length" not in asked(page)
    assert answer(draft(key)).report.pairing.sheet.hands.subsidiary[0].length.value == 3.0
    picks = SMALL_PICKED | {"hands.subsidiary": "is"}
    page = owner_client.post(address, sent(CASE | DIAL | SMALL_SECONDS, picks, hands=leaf.pk), follow=True).text
    assert "hands.subsidiary[0].length" in asked(page)
    report = answer(draft(key)).report
    assert report.pairing.sheet.hands.subsidiary[0].length.value == 2.5
    names = {"name": "B", "case": "steel", "dial": "white", "movement": "Fennel", "small_seconds_hand": "own small"}
    owner_client.post(reverse("parts:quick-keep", args=[key]), names)
    kept = Pairing.objects.with_parts().get(name="B")
    own = kept.small_seconds_hand_from
    assert (own.name, own.is_watchs_own, kept.hands) == ("own small", True, leaf)
    assert clear_of(answer(kept).report) == clear_of(report)


def test_the_measuring_sheet_and_the_fit_check_of_such_a_draft_open(owner_client, address, key):
    picks = SMALL_PICKED | {"case.shape": "rectangle"}
    owner_client.post(address, sent(RECTANGLE | DIAL | SMALL_SECONDS, picks, movement=MovementFactory().pk))
    sheet = owner_client.get(reverse("jobs:measuring-sheet"), {"pairing": draft(key).pk})
    assert (sheet.status_code, sheet["Content-Type"]) == (200, "application/pdf")
    assert "Dial through the bore" in owner_client.get(reverse("parts:draft", args=[key])).text


def test_each_side_that_a_case_is_loaded_from_has_its_own_choices(owner_client, address):
    """The ring over the dial is asked for from the front, what the dial rests on from the back."""

    def offered(picks):
        page = owner_client.post(address, sent({}, picks), follow=True).text
        return {path for path in ("case.ring", "dial.rests_on") if f'name="p:{path}"' in page}

    assert offered(PICKED) == {"dial.rests_on"}
    assert offered({"case.construction": "front"}) == {"case.ring"}
    assert offered({"case.ring": "tension", "case.construction": ""}) == {"case.ring", "dial.rests_on"}


def test_a_case_loaded_from_the_front_has_its_own_sketch_with_a_letter_for_each_of_its_numbers(owner_client, address):
    numbers = {"case.bore_diameter": "28.4"}
    back = owner_client.post(address, sent(numbers, PICKED), follow=True)
    assert 'd="M105 132H535' in back.text
    front = owner_client.post(address, sent(numbers, {"case.construction": "front", "case.crystal": "is"}), follow=True)
    assert 'd="M105 132H535' not in front.text
    lines = {line.asked.path: line.letter for line in front.context["all_lines"] if line.asked.path.startswith("case.")}
    asked = {path: letter for path, letter in lines.items() if letter}
    assert [*asked] == [
        "case.bore_diameter",
        "case.dial_opening_diameter",
        "case.stem_angle",
        "case.front_opening_diameter",
        "case.floor_stem",
        "case.floor_ring",
        "case.floor_crystal_centre",
        "case.floor_crystal_edge",
        "case.crystal_edge_radius",
    ]
    assert "".join(asked.values()) == "ABCDEFNOP"
    assert {*asked.values()} <= {mark.letter for mark in front.context["marks"]}
    assert (front.context["next"]["letter"], front.context["next"]["field"]) == ("B", "n:case.dial_opening_diameter")


def test_of_the_watchs_own_dial_no_diameter_is_asked_that_has_no_field(owner_client, address, key):
    """It came out through the front, so what goes through it is the movement."""
    picks = PICKED | {"case.construction": "front", "case.ring": "rehaut"}
    front = {"case.front_opening_diameter": "29.6", "case.floor_stem": "2.2", "case.floor_ring": "4.2"}
    numbers = {"case.bore_diameter": "29.0", "case.floor_crystal_centre": "6.9", **front} | DIAL
    page = owner_client.post(address, sent(numbers, picks, movement=MovementFactory().pk), follow=True)
    report = answer(draft(key)).report
    assert report["front-opening"].sentence.startswith("The movement passes the front opening")
    assert "dial.diameter" not in {path for path, _ in report.measure_next}
    assert "n:dial.diameter" not in page.text


def test_what_has_no_field_here_says_where_it_is_typed(owner_client, address):
    feet = {f"dial.feet[{i}].{name}": text for i, angle in enumerate(("25", "205"))
            for name, text in (("angle", angle), ("radius", "9.5"), ("diameter", "0.70"))}  # fmt: skip
    movement = {"movement.overall_diameter": "15.3", "movement.stem_axis_depth": "1.35 ±0.01"}
    movement |= {"movement.fit_diameter": "15.2", "movement.back_height": "2.9"}
    movement |= {"movement.posts.hour.diameter": "1.20", "movement.posts.hour.height": "1.3"}
    movement |= {"movement.posts.minute.diameter": "0.7", "movement.posts.minute.height": "1.9"}
    picks = PICKED | {"dial.fixing": "feet", "movement.date": "none", "hands.seconds": "none"}
    page = owner_client.post(
        address, sent(CASE | DIAL | feet | movement, picks, hands=HandSetFactory().pk), follow=True
    )
    assert page.context["next"]["words"] == "movement foot holes"
    assert "once the numbers are kept as parts" in page.text


def test_a_long_watchs_name_is_cut_between_its_words_and_never_in_a_number(owner_client, address, key):
    watch = "Rectangular ladies' cocktail watch, gilt, hand-wound, stopped, from a grandmother"
    hands = {f"hands.{role}.hole_diameter": text for role, text in (("hour", "1.20"), ("minute", "0.70"))}
    owner_client.post(address, sent(RECTANGLE | DIAL | hands, SHAPED | {"hands.own": "is"}))
    names = proposed_names(draft(key), pieces_of(draft(key)), watch)
    assert names["hands"] == "Rectangular ladies' cocktail watch, gilt, hand-wound,…, own hands 1.20/0.70 mm"
    assert max(map(len, names.values())) <= 80


def test_what_stands_in_the_way_is_told_before_the_drawings(owner_client, address):
    too_wide = CASE | DIAL | {"dial.diameter": "32.00"}
    page = owner_client.post(address, sent(too_wide, PICKED), follow=True).text
    assert 0 < page.index("What stands in the way") < page.index('class="where"')


@pytest.mark.parametrize(
    ("seat", "told"),
    [
        (
            {"width": "19.00", "height": "29.00", "corner": "1.00"},
            "Look again at case dial seat outline width and case dial opening outline width.",
        ),
        (
            {"width": "20.20", "height": "28.20", "corner": "9.00"},
            "Look again at case dial seat outline shape and case dial opening outline.",
        ),
    ],
)
def test_an_opening_that_stands_out_of_its_seat_is_told_in_the_quick_check(owner_client, address, seat, told):
    numbers = RECTANGLE | {f"case.seat_outline.{name}": text for name, text in seat.items()}
    page = owner_client.post(address, sent(numbers, SHAPED | {"dial.own_case": ""}), follow=True).text
    assert "These numbers contradict each other: the dial would fall through the opening." in page
    assert told in page


@pytest.mark.parametrize("shape", [{}, {"case.shape": "rectangle"}])
def test_where_the_dial_rests_on_the_movement_no_seat_is_asked_and_depths_count_from_the_ledge(
    owner_client, address, key, shape
):
    picked = PICKED | shape | {"dial.rests_on": "movement", "dial.own_case": ""}
    response = owner_client.post(address, sent({}, picked), follow=True)
    assert not [path for path in asked(response.text) if "seat_outline" in path or "seat_diameter" in path]
    ways = {line.asked.path: line.asked.way for station in response.context["counted"] for line in station.lines}
    counted = ("case.stem_axis_depth", "case.back_depth", "case.crystal_gap_centre")
    assert [ways[path].split(",")[0] for path in counted] == ["ledge that the movement stands on"] * 3
    assert "dial-seat" not in {check.key for check in answer(draft(key)).report.checks}


def test_what_an_undecided_check_asks_for_is_told_as_not_decided(owner_client, address):
    numbers = CASE | {"dial.thickness": "0.40", "dial.centre_hole_diameter": "1.50"}
    numbers |= {"movement.posts.hour.diameter": "1.50", "movement.posts.hour.height": "1.2"}
    numbers |= {"hands.hour.hole_diameter": "1.5", "hands.hour.hub_height": "0.4 ±0.2", "hands.hour.thickness": "0.1"}
    numbers |= {"movement.posts.minute.height": "1.7", "hands.minute.hub_height": "0.3 ±0.2"}
    response = owner_client.post(address, sent(numbers, PICKED), follow=True)
    undecided = [check for _, items in response.context["remedies"] for check, _ in items if check.verdict == "unclear"]
    assert undecided
    assert response.text.count("Not decided yet.") == len(undecided)
