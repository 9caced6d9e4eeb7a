"""What may be typed for what was read at the bench. Sums: measuring at the bench, section 4."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from parts.dimensions.readings import PINS, Taken, Tool, how_taken, take
from parts.dimensions.text import DimensionError, read_dimension

CALLIPER = Tool("Calliper", 0.03, 0.01)


def numbers(text, **options):
    taken = take(text, **{"tool": CALLIPER} | options)
    return taken.value, taken.plus_minus


@pytest.mark.parametrize("text", ["27.40", "27,40", " 27.4 mm ", "27.40mm"])
def test_a_bare_number_takes_the_limit_of_its_tool(text):
    assert numbers(text) == (27.4, 0.03)
    assert take(text, tool=CALLIPER).record == {"instrument": "Calliper"}


def test_a_bare_number_without_a_tool_stays_as_typed_and_says_so():
    taken = take("27.40")
    assert (taken.value, taken.plus_minus, taken.has_plus_minus) == (27.4, 0.0, False)
    assert take("27.40 ±0").has_plus_minus
    assert take("27.40", tool=CALLIPER).has_plus_minus


@pytest.mark.parametrize(
    "text",
    ["27.40 27.42 27.41", "27,40 27,42 27,41", "27.40, 27.42, 27.41", "27.40; 27.42; 27.41", "27.40 mm 27.42mm 27.41"],
)
def test_repeated_readings_become_their_mean(text):
    assert numbers(text) == (27.41, 0.036)
    record = take(text, tool=CALLIPER).record
    assert record == {"instrument": "Calliper", "readings": [27.4, 27.42, 27.41]}
    assert how_taken(record) == "calliper, 3 readings"


def test_equal_readings_keep_scale_and_step():
    assert numbers("27.40 27.40 27.40") == (27.4, 0.034)


def test_two_readings_far_apart_are_worth_little():
    assert numbers("2.10 2.20")[1] == 0.67


@pytest.mark.parametrize(("counts", "value"), [("mean", 27.41), ("smallest", 27.40), ("largest", 27.42)])
@pytest.mark.parametrize("text", ["27.40/27.42", "27,42 / 27,40 mm"])
def test_of_two_directions_the_one_counts_that_the_check_needs(text, counts, value):
    taken = take(text, tool=CALLIPER, counts=counts)
    assert (taken.value, taken.plus_minus, taken.oval) == (value, 0.04, 0.02)
    assert taken.record["oval"] == 0.02
    assert how_taken(taken.record) == "calliper, 2 directions, 0.02 oval"


def test_a_round_part_may_be_taken_in_three_directions():
    taken = take("27.40/27.42/27.44", tool=CALLIPER, counts="smallest")
    assert (taken.value, taken.oval, taken.plus_minus) == (27.4, 0.04, 0.05)


@pytest.mark.parametrize("text", ["0.88<0.89", "0,88 < 0,89", "0.88 mm<0.89 mm"])
def test_a_pair_of_pins_holds_the_hole_between_them(text):
    taken = take(text, tool=CALLIPER)
    assert (taken.value, taken.plus_minus) == (0.885, 0.007)
    assert taken.record == {"instrument": "Pins", "pins": [0.88, 0.89]}
    assert how_taken(taken.record) == "pins, 0.88 goes, 0.89 does not"
    assert take(text, pins=Tool("My pins", 0.005)).plus_minus == 0.01
    assert PINS.limit == 0.002


@pytest.mark.parametrize(
    ("text", "value", "plus_minus"),
    [
        ("27.40 ±0.01", 27.4, 0.01),
        ("27.40 ±0", 27.4, 0.0),
        ("27.40 27.42 27.41 +-0.05", 27.41, 0.05),
        ("27.40/27.42 +/-0,05 mm", 27.41, 0.05),
        ("0.88<0.89 ±0.02", 0.885, 0.02),
        ("0.88<0.89 ±0", 0.885, 0.0),
        ("11 1/2''' ±0.05", 25.942, 0.05),
    ],
)
def test_a_plus_minus_that_is_typed_wins(text, value, plus_minus):
    taken = take(text, tool=CALLIPER)
    assert (taken.value, taken.plus_minus, taken.stated) == (value, plus_minus, True)


@pytest.mark.parametrize("text", ["11 1/2'''", "11.5'''", "11½'''"])
def test_lignes_are_no_readings(text):
    assert numbers(text) == (25.942, 0.03)


def test_a_bound_takes_nothing_from_a_tool():
    taken = take("at least 2.30", bounded=True, tool=CALLIPER)
    assert (taken.value, taken.plus_minus, taken.at_least, taken.record) == (2.3, 0.0, True, {})


def test_angles_are_read_alike():
    assert take("90° 91° 90.5°", unit="deg", tool=Tool("Picture", 0.5)).value == 90.5
    assert take("-35 -34", unit="deg").value == -34.5


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("27 40", "13.00 apart"),
        ("27.40 2.742", "apart"),
        ("27.40 -0.02", "apart"),
        ("1/2", "only works in lignes"),
        ("11 1/2", "only works in lignes"),
        ("27.40/24.70", "2.70 out of round"),
        ("0.89<0.88", "no pair of pins"),
        ("0.88<0.89<0.90", "no pair of pins"),
        ("0.88<", "is not a number"),
        ("27.40 27.4x", "is not a number"),
        ("27.40 27.42 ±", "is not a number"),
        ("27.40 27.42 ±x", "after the ± is not a number"),
        ("27.40 27.42 ±-1", "after the ± is not a number"),
        ("at least 2.30 2.31", "is not a number"),
        (" ".join(["27.40"] * 31), "30 at most"),
        (" ".join(["27.40"] * 99), "30 readings at most"),
        ("27.40 ±0.01 ±0.02", "is not a number"),
    ],
)
def test_what_is_no_reading_is_refused(text, says):
    with pytest.raises(DimensionError, match=says):
        take(text, bounded=True, tool=CALLIPER)


def test_nothing_typed_is_nothing_taken():
    assert take("  ", tool=CALLIPER) is None


@given(st.text(max_size=80))
def test_any_text_is_read_or_refused(text):
    try:
        taken = take(text, bounded=True, tool=CALLIPER)
    except DimensionError:
        return
    assert taken is None or isinstance(taken, Taken)


@given(st.decimals("0.05", 99, places=3), st.decimals(0, 9, places=3))
def test_one_number_is_read_as_ever(value, plus_minus):
    for text in (f"{value}", f"{value} ±{plus_minus}"):
        taken, reading = take(text), read_dimension(text)
        assert (taken.value, taken.plus_minus) == (reading.value, reading.plus_minus)


@given(st.lists(st.integers(2700, 2708), min_size=2, max_size=10))
def test_the_mean_lies_among_the_readings_and_the_plus_minus_is_more_than_the_scale(hundredths):
    taken = take(" ".join(f"{each / 100:.2f}" for each in hundredths), tool=CALLIPER)
    assert min(hundredths) / 100 - 0.001 <= taken.value <= max(hundredths) / 100 + 0.001
    assert taken.plus_minus >= 0.033
    assert how_taken(taken.record) == f"calliper, {len(hundredths)} readings"


@given(st.integers(50, 300), st.integers(1, 5))
def test_the_hole_lies_between_its_pins(goes, wider):
    taken = take(f"{goes / 100:.2f}<{(goes + wider) / 100:.2f}")
    assert taken.value - taken.plus_minus <= goes / 100 - 0.0019
    assert taken.value + taken.plus_minus >= (goes + wider) / 100 + 0.0019
