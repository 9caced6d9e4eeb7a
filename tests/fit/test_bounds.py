"""Numbers known by a bound only: what ran together cleared. A bound settles a check or leaves it open, never a no."""

import pytest

from parts.fit import SheetError, check_sheet
from parts.fit.answer.text import report_text
from tests.fit.sheets import judged, report, sheet


def at_least(bound):
    return {"at_least": bound}


@pytest.mark.parametrize(
    ("path", "bound", "key", "verdict"),
    [
        ("case.back_depth", 4.3, "back-gap", "fits"),
        ("case.back_depth", 4.0, "back-gap", "fits"),
        ("case.back_depth", 3.99, "back-gap", "work"),
        ("case.back_depth", 3.9, "back-gap", "work"),
        ("case.back_depth", 3.89, "back-gap", "unclear"),
        ("case.back_depth", 1.0 + 1.2, "back-gap", "unclear"),
        ("case.crystal_gap_centre", 2.35, "gap-crystal", "fits"),
        ("case.crystal_gap_centre", 2.25, "gap-crystal", "work"),
        ("case.crystal_gap_centre", 2.24, "gap-crystal", "unclear"),
        ("case.dial_opening_diameter", 27.6, "tip-clearance", "fits"),
        ("case.dial_opening_diameter", 24.19, "tip-clearance", "unclear"),
        ("case.dial_opening_diameter", 28.55, "dial-opening", "unclear"),
        ("case.tube_bore_diameter", 1.0, "stem-tube", "fits"),
        ("case.tube_bore_diameter", 0.99, "stem-tube", "work"),
        ("case.tube_bore_diameter", 0.89, "stem-tube", "unclear"),
    ],
)
def test_a_bound_settles_a_check_or_leaves_it_open(path, bound, key, verdict):
    found = judged(key, {path: at_least(bound)})
    assert found.verdict == verdict
    assert found.undecided == ((path,) if verdict == "unclear" else ())
    assert verdict != "unclear" or path in dict(report({path: at_least(bound)}).measure_next)


def test_a_settled_check_says_at_least():
    found = report({"case.back_depth": at_least(4.3), "case.crystal_gap_centre": at_least(2.5)})
    assert found["back-gap"].sentence == "At least 0.40 mm of clearance to the case back."
    assert found["gap-crystal"].sentence == "Seconds hand to crystal: at least 0.30 mm."
    assert "inf" not in report_text(found)
    assert next(item for item in found.as_dict()["checks"] if item["key"] == "back-gap")["high"] is None


@pytest.mark.parametrize("bound", [0.5, 1.8, 2.2, 2.3, 2.6, 4.0])
def test_a_bound_is_never_worse_than_not_knowing_nor_ever_a_no(bound):
    """Whatever the bound, the true number may be any above it: none of them may contradict what was said."""
    told = judged("gap-crystal", {"case.crystal_gap_centre": at_least(bound)}).verdict
    real = {judged("gap-crystal", {"case.crystal_gap_centre": bound + more}).verdict for more in (0.0, 0.1, 0.5, 9.0)}
    assert told != "no"
    assert told == "unclear" or "no" not in real


def test_an_edge_gap_may_be_a_bound():
    dome = {"case.crystal_gap_edge": at_least(2.4), "case.crystal_edge_radius": 12.0, "case.crystal_gap_centre": 3.0}
    assert judged("gap-crystal", dome).verdict == "fits"


@pytest.mark.parametrize("path", ["case.bore_diameter", "movement.back_height", "hands.hour.length"])
def test_only_the_rooms_of_a_case_may_be_known_by_a_bound(path):
    with pytest.raises(SheetError) as caught:
        check_sheet(sheet({path: at_least(5.0)}))
    assert caught.value.key == path


@pytest.mark.parametrize("value", [{}, {"at_least": "2"}, {"at_least": 2.0, "at_most": 3.0}, {"at_least": -1}])
def test_a_bound_is_one_number(value):
    with pytest.raises(SheetError) as caught:
        check_sheet(sheet({"case.back_depth": value}))
    assert caught.value.key.startswith("case.back_depth")


def test_a_bound_contradicts_a_number_that_it_cannot_meet():
    with pytest.raises(SheetError, match="dial_opening_diameter"):
        check_sheet(sheet({"case.dial_opening_diameter": at_least(28.7)}))
    assert check_sheet(sheet({"case.back_depth": at_least(1.0)})).verdict
