"""Text to dimension and back. Ligne: law of 19 frimaire an VIII, 1 m = 443.296 lignes."""

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from parts.dimensions.text import (
    LIGNE,
    DimensionError,
    format_dimension,
    ligne_label,
    read_dimension,
    show_dimension,
)
from parts.fit.units import UNITS

sizes = st.floats(min_value=-1e6, max_value=1e6, allow_nan=False)
spreads = st.floats(min_value=0, max_value=1e3, allow_nan=False)


@pytest.mark.parametrize(
    ("text", "value", "plus_minus"),
    [
        ("27.40", 27.4, 0.0),
        ("27,40", 27.4, 0.0),
        (" 27.4 mm ", 27.4, 0.0),
        ("27.40 ±0.02", 27.4, 0.02),
        ("27.40 +-0.02", 27.4, 0.02),
        ("27,40+/-0,02", 27.4, 0.02),
        ("27,40 mm ± 0,02 mm", 27.4, 0.02),
        ("27.40\u00a0±\u00a00.02", 27.4, 0.02),
        (".5", 0.5, 0.0),
        ("27.", 27.0, 0.0),
        ("-0.5", -0.5, 0.0),
        ("\u22120.5", -0.5, 0.0),
        ("0", 0.0, 0.0),
        ("11 1/2''' ±0.05", 25.942, 0.05),
    ],
)
def test_numbers_are_read(text, value, plus_minus):
    assert read_dimension(text) == (value, plus_minus)


@pytest.mark.parametrize(
    "text",
    [
        "11 1/2'''",
        "11.5'''",
        "11,5'''",
        "11½'''",
        "11 ½ '''",
        "11½‴",
        "11 1/2 ’’’",
        "11 1/2 ′′′",
        "11 1/2″′",
        "11 1/2 \"'",
        "11-1/2'''",
        "11 1⁄2'''",
        "11 1/2 lignes",
        "11.5 Ligne",
    ],
)
def test_eleven_and_a_half_lignes_in_every_spelling(text):
    assert read_dimension(text).value == 25.942


@pytest.mark.parametrize(
    ("text", "millimetres"),
    [
        ("3 3/4'''", 8.4594),
        ("5 1/2'''", 12.4071),
        ("6 3/4'''", 15.2268),
        ("7 3/4'''", 17.4827),
        ("10 1/2'''", 23.6862),
        ("13 1/4'''", 29.8897),
        ("16 1/2'''", 37.2212),
        ("12'''", 27.0699),
        ("1/2'''", 1.1279),
    ],
)
def test_usual_sizes_in_lignes(text, millimetres):
    assert read_dimension(text).value == millimetres


def test_the_ligne_is_the_laws_own():
    assert Fraction(443296, 1000) == 1000 / LIGNE


@pytest.mark.parametrize("text", ["", " ", "\t\n", "\u00a0"])
def test_nothing_typed_is_not_measured(text):
    assert read_dimension(text) is None


@pytest.mark.parametrize(
    "text",
    [
        *("27.4.0", "27,40,1", "1,250.5", "wide", "nan", "inf", "1e3", "27 cm", "1 250", "--1", "- 5", "mm", "±"),
        *("27 ±", "± 0.02", "27±0.02±0.01", "11'", "11''", "11''''", "'''", "/2'''", "-11'''", "11.5 1/2'''"),
        *("٢٧", "1" * 61, "1/" * 400),
    ],
)
def test_what_is_no_dimension_is_refused_with_examples(text):
    with pytest.raises(DimensionError) as caught:
        read_dimension(text)
    message = str(caught.value)
    assert text[:20] in message
    assert "27.40 ±0.02" in message
    assert "leave it blank" in message
    assert len(message) < 300


@pytest.mark.parametrize("text", ["6 3/4", "½", "3/4", "11 1/2 ±0.1"])
def test_a_fraction_without_marks_is_not_taken_for_millimetres(text):
    with pytest.raises(DimensionError, match="Add three marks"):
        read_dimension(text)


@pytest.mark.parametrize("text", ["11 3/2'''", "111/2'''", "1 1/1'''", "1 1/0'''", "0/0'''"])
def test_a_fraction_of_a_whole_or_more_is_refused(text):
    with pytest.raises(DimensionError, match="a whole or more"):
        read_dimension(text)


@pytest.mark.parametrize("text", ["27 ±-1", "27 ±x", "27 ±0.1'''", "27 ± 1/2"])
def test_a_bad_plus_minus_is_named(text):
    with pytest.raises(DimensionError, match="is not a number"):
        read_dimension(text)


@pytest.mark.parametrize(
    ("text", "unit", "value"),
    [
        *(("90", "deg", 90.0), ("90°", "deg", 90.0), ("-35 degrees", "deg", -35.0), ("1,5 mg", "mg", 1.5)),
        *(("30 mAh", "mAh", 30.0), ("1.2 µA", "uA", 1.2), ("1.2 μA", "uA", 1.2), ("1.2 uA", "uA", 1.2)),
        *(("0.7 µN·m", "uN·m", 0.7), ("0.7 uNm", "uN·m", 0.7), ("-0.5 s/day", "s/day", -0.5)),
    ],
)
def test_each_unit_may_stand_behind_its_number(text, unit, value):
    assert read_dimension(text, unit=unit) == (value, 0.0)


@pytest.mark.parametrize(("text", "unit"), [("90 mm", "deg"), ("11'''", "deg"), ("1/2", "mg"), ("3 mg", "mm")])
def test_another_unit_is_refused(text, unit):
    with pytest.raises(DimensionError, match="leave it blank"):
        read_dimension(text, unit=unit)


@pytest.mark.parametrize(
    ("value", "plus_minus", "unit", "text"),
    [
        (27.4, 0.02, "mm", "27.40 ±0.02"),
        (27.4, 0.0, "mm", "27.40"),
        (0.0, 0.0, "mm", "0.00"),
        (27.123, 0.005, "mm", "27.123 ±0.005"),
        (1e-7, 0.0, "mm", "0.0000001"),
        (90.0, 1.0, "deg", "90 ±1"),
        (1200.0, 0.0, "mg", "1200"),
        (None, 0.0, "mm", ""),
    ],
)
def test_dimensions_are_written(value, plus_minus, unit, text):
    assert format_dimension(value, plus_minus, unit=unit) == text


def test_shown_dimensions_carry_their_unit():
    assert show_dimension(27.4, 0.02) == "27.40 ±0.02 mm"
    assert show_dimension(-35.0, unit="deg") == "−35°"
    assert show_dimension(1.2, unit="uA") == "1.2 µA"


@given(
    value=sizes,
    plus_minus=spreads,
    unit=st.sampled_from([unit for unit in UNITS if unit not in ("months", "share", "count")]),
)
def test_what_is_written_reads_back_to_the_same_numbers(value, plus_minus, unit):
    value, plus_minus = round(value, 9), round(plus_minus, 9)
    assert read_dimension(format_dimension(value, plus_minus, unit=unit), unit=unit) == (value, plus_minus)


@given(text=st.text(max_size=80))
def test_no_text_breaks_the_reader(text):
    try:
        reading = read_dimension(text)
    except DimensionError:
        return
    assert reading is None or reading.plus_minus >= 0


@given(quarters=st.integers(min_value=1, max_value=120))
def test_every_quarter_ligne_is_labelled_as_it_was_typed(quarters):
    label = f"{Fraction(quarters, 4).__floor__() or ''} {['', '1/4', '1/2', '3/4'][quarters % 4]}".strip() + "'''"
    assert ligne_label(read_dimension(label).value) == label


@pytest.mark.parametrize(
    ("millimetres", "label"),
    [(25.94, "11 1/2'''"), (25.6, "about 11 1/4'''"), (27.07, "12'''"), (0.5, "about 1/4'''"), (0.2, ""), (0.0, "")],
)
def test_the_label_in_lignes_says_when_it_is_only_near(millimetres, label):
    assert ligne_label(millimetres) == label
