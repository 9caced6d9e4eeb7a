"""GNU units 2.22, definitions file and its output for the ligne (frenchfoot 144|443.296 m, a twelfth of a twelfth)."""

from fractions import Fraction

import pytest

from parts.dimensions.text import LIGNE, read_dimension


@pytest.mark.parametrize(("lignes", "printed"), [("11.5", "25.94203422"), ("10.5", "23.68620515"), ("1", "2.2558291")])
def test_its_printed_conversions(lignes, printed):
    """The exact factor to the digits printed; a typed size is kept to 0.0001 mm."""
    digits = len(printed.split(".")[1])
    assert round(float(Fraction(lignes) * LIGNE), digits) == float(printed)
    assert read_dimension(f"{lignes}'''").value == pytest.approx(float(printed), abs=5.1e-5)


def test_a_mixed_number_is_a_sum_and_not_the_product_that_it_reads():
    """There '6 3|4 ligne' is 6 x 3/4 = 4.5 lignes, 10.15 mm; a movement of 6 3/4 has 6.75."""
    assert read_dimension("6 3/4'''").value == pytest.approx(15.2268, abs=5e-5)
    assert read_dimension("6 3/4'''").value != pytest.approx(10.15123078, abs=1e-3)
