"""Law of 19 frimaire an VIII (10 December 1799): the metre is 3 feet and 11.296 lines, that is 443.296 lignes."""

from fractions import Fraction

import pytest

from parts.dimensions.text import LIGNE, ligne_label, read_dimension


def test_a_metre_is_443_296_lignes():
    assert 3 * 144 + Fraction("11.296") == Fraction("443.296")
    assert Fraction("443.296") == 1000 / LIGNE
    assert Fraction(31250, 13853) == LIGNE


@pytest.mark.parametrize(
    ("text", "mm"),
    [
        ("1'''", 2.2558),
        ("3 3/4'''", 8.4594),
        ("5 1/2'''", 12.4071),
        ("6 3/4'''", 15.2268),
        ("7 3/4'''", 17.4827),
        ("8 3/4'''", 19.7385),
        ("10 1/2'''", 23.6862),
        ("11 1/2'''", 25.9420),
        ("12'''", 27.0699),
        ("13'''", 29.3258),
        ("13 1/4'''", 29.8897),
        ("16 1/2'''", 37.2212),
    ],
)
def test_usual_sizes_by_the_laws_ligne(text, mm):
    assert read_dimension(text).value == pytest.approx(mm, abs=5e-5)


@pytest.mark.parametrize(("text", "printed"), [("1/4'''", 0.0564), ("1 1/2'''", 3.338), ("1'''", 2.255)])
def test_a_widely_copied_table_with_typing_errors_is_not_followed(text, printed):
    assert abs(read_dimension(text).value - printed) > 5e-4


def test_a_size_named_in_lignes_is_no_measure():
    """Movements sold as 11 1/2 measure 25.60 mm: 0.34 mm off the conversion, so the label says "about"."""
    assert read_dimension("11 1/2'''").value - 25.60 == pytest.approx(0.342, abs=5e-4)
    assert ligne_label(25.60) == "about 11 1/4'''"
    assert ligne_label(25.942) == "11 1/2'''"
