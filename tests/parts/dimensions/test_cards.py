"""What the cards say of each dimension, and what a bare number takes from what is in hand."""

from types import SimpleNamespace

import pytest

from parts.dimensions.cards import CARDS, card_of, unusual
from parts.dimensions.in_hand import NOTHING_IN_HAND, InHand
from parts.fit.records import describe, paths
from parts.models import Instrument


def instrument(name, kind, limit_mm, step_mm=0.0, limit_deg=None):
    return SimpleNamespace(name=name, kind=kind, limit_mm=limit_mm, step_mm=step_mm, limit_deg=limit_deg)


CALLIPER = instrument("Calliper", "calliper", 0.03, 0.01)
PICTURE = instrument("Picture", "picture", 0.05, limit_deg=0.5)
SHEET = instrument("Maker's sheet", "sheet", 0.02, limit_deg=1.0)
EYE = instrument("By eye", "eye", 0.2, limit_deg=2.0)
DRAWER = (CALLIPER, PICTURE, SHEET, EYE)


def taken_by(path, hand=CALLIPER, unit="mm", source=""):
    tool = InHand(DRAWER, hand).tool(path, unit=unit, source=source)
    return tool and (tool.name, tool.limit)


def test_every_card_speaks_of_a_dimension_and_of_kinds_of_tools():
    assert len(CARDS) > 70
    assert set(CARDS) <= set(paths())
    for path, card in CARDS.items():
        spec = describe(path.replace("[]", "[0]")).input
        assert set(card.by_kind) <= set(Instrument.Kind.values)
        assert card.usual is None or spec.least <= card.usual[0] < card.usual[1] <= spec.most


@pytest.mark.parametrize(
    ("path", "taken"),
    [
        ("case.bore_diameter", ("Calliper", 0.05)),
        ("case.tube_outer_diameter", ("Calliper", 0.03)),
        ("stem.thread_length", ("Calliper", 0.1)),
        ("stem.thread_pitch", ("Calliper", 0.03)),
        ("dial.feet[3].radius", ("Calliper", 0.05)),
        ("movement.posts.hour.made_for", None),
    ],
)
def test_the_larger_counts_of_the_instrument_and_of_what_its_kind_does_there(path, taken):
    assert taken_by(path) == taken
    better = instrument("Long calliper", "calliper", 0.2)
    assert taken is None or taken_by(path, better) == ("Long calliper", 0.2)


def test_angles_take_degrees_and_by_eye_where_the_instrument_takes_none():
    assert taken_by("case.stem_angle", PICTURE, "deg") == ("Picture", 0.5)
    assert taken_by("case.stem_angle", CALLIPER, "deg") == ("By eye", 2.0)
    assert InHand((CALLIPER,), CALLIPER).tool("case.stem_angle", unit="deg") is None


def test_what_is_no_length_takes_its_own_or_none():
    assert taken_by("hands.hour.mass", unit="mg") == ("Balance", 0.4)
    assert taken_by("movement.current", unit="uA") is None


def test_where_a_number_comes_from_decides_which_instrument_gives_its_plus_minus():
    assert taken_by("case.bore_diameter", source="s") == ("Maker's sheet", 0.02)
    assert taken_by("case.bore_diameter", source="e") == ("By eye", 0.2)
    assert taken_by("case.bore_diameter", source="l") is None
    assert taken_by("case.bore_diameter", SHEET, source="m") == ("Calliper", 0.05)
    assert [InHand(DRAWER, each).source for each in DRAWER] == ["m", "m", "s", "e"]


def test_with_nothing_in_hand_a_number_takes_nothing():
    assert NOTHING_IN_HAND.tool("case.bore_diameter", unit="mm") is None
    assert NOTHING_IN_HAND.pins.limit == 0.002


def test_the_shops_own_pins_are_taken():
    pins = InHand((instrument("My pins", "pins", 0.005),)).pins
    assert (pins.name, pins.limit) == ("My pins", 0.005)


def test_which_direction_of_a_round_part_counts():
    counts = {path: card_of(path).counts for path in ("case.bore_diameter", "dial.diameter", "movement.fit_diameter")}
    assert counts == {"case.bore_diameter": "smallest", "dial.diameter": "largest", "movement.fit_diameter": "largest"}
    assert card_of("movement.stem_thread").counts == "mean"


@pytest.mark.parametrize(
    ("value", "says"),
    [(14.0, ""), (42.0, ""), (13.99, "Look again: 14.00 to 42.00 mm is usual."), (45.0, "14.00 to 42.00 mm is usual.")],
)
def test_a_number_outside_the_usual_is_doubted(value, says):
    assert says in unusual("case.bore_diameter", value, unit="mm")
    assert bool(unusual("case.bore_diameter", value, unit="mm")) is bool(says)
    assert unusual("stem.thread_pitch", 99.0, unit="mm") == ""


def test_the_better_instrument_for_an_angle_is_told_in_degrees():
    assert InHand(DRAWER, EYE).best("case.stem_angle", than=2.0, unit="deg").endswith("±0.5°")


@pytest.mark.parametrize(("than", "named"), [(None, True), (0.06, True), (0.05, False), (0.01, False)])
def test_an_instrument_is_called_better_only_where_it_is(than, named):
    assert bool(InHand((CALLIPER,), CALLIPER).best("case.bore_diameter", than=than)) == named


@pytest.mark.parametrize(
    ("path", "unit", "than", "closer"),
    [
        ("case.bore_diameter", "mm", 0.05, False),
        ("case.bore_diameter", "mm", 0.06, True),
        ("case.tube_bore_diameter", "mm", 0.04, False),
        ("stem.thread_pitch", "mm", 0.03, False),
        ("case.stem_angle", "deg", 0.5, False),
        ("case.stem_angle", "deg", 1.0, True),
        ("hands.hour.mass", "mg", 0.4, False),
        ("movement.current", "uA", 0.1, True),
    ],
)
def test_the_shop_takes_a_number_closer_only_where_an_instrument_of_it_does(path, unit, than, closer):
    assert InHand(DRAWER, CALLIPER).takes_closer(path, unit=unit, than=than) == closer


def test_an_instrument_of_its_own_kind_may_take_anything_closer():
    plugs = instrument("Plug gauges", "other", 0.005)
    assert InHand((*DRAWER, plugs)).takes_closer("case.bore_diameter", unit="mm", than=0.05)
    assert NOTHING_IN_HAND.takes_closer("case.bore_diameter", unit="mm", than=0.01)
