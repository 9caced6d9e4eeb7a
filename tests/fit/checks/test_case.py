"""Movement in bore and holder: every band's edge from both sides, with the differences worked out by hand."""

import pytest

from tests.fit.constructions.sheets import FRONT
from tests.fit.sheets import judged, kinds


@pytest.mark.parametrize(
    ("bore", "value", "verdict"),
    [
        (28.64, -0.01, "no"),
        (28.65 - 1e-8, -1e-8, "no"),
        (28.65 - 1e-10, 0.0, "work"),
        (28.65, 0.0, "work"),
        (28.67 - 1e-8, 0.02, "work"),
        (28.67 - 1e-10, 0.02, "fits"),
        (28.67, 0.02, "fits"),
        (28.68, 0.03, "fits"),
        ([28.68, 0.01], 0.03, "fits"),
        ([28.68, 0.02], 0.03, "work"),
        ([28.66, 0.02], 0.01, "unclear"),
        ([28.63, 0.02], -0.02, "unclear"),
        ([28.62, 0.02], -0.03, "no"),
    ],
)
def test_the_movement_passes_the_bore_from_no_room_upwards(bore, value, verdict):
    found = judged("case-bore", {"case.bore_diameter": bore})
    assert found.value.value == pytest.approx(value, abs=2e-8)
    assert found.verdict == verdict
    assert found.must
    assert kinds(found) == ([] if verdict in ("fits", "no") else ["work"])


@pytest.mark.parametrize(
    ("fit", "value", "verdict", "remedies", "words"),
    [
        (28.51, -0.005, "fits", [], "clamps or screws hold it"),
        (28.5, 0.0, "fits", [], "directly"),
        (28.5 - 2e-10, 1e-10, "fits", [], "directly"),
        (28.49, 0.005, "work", ["work"], "too narrow for a ring"),
        (28.3, 0.1, "work", ["work"], "too narrow for a ring"),
        (28.29, 0.105, "work", ["part"], "too thin to print"),
        (26.92, 0.79, "work", ["part"], "too thin to print"),
        (26.9, 0.8, "work", ["part"], "fills the gap to the bore"),
        (26.9 + 2e-10, 0.8, "work", ["part"], "fills the gap to the bore"),
        (26.88, 0.81, "work", ["part"], "fills the gap to the bore"),
        ([26.9, 0.1], 0.8, "work", ["part", "part"], "fills the gap to the bore"),
        ([28.52, 0.1], -0.01, "work", ["work"], "may need work"),
    ],
)
def test_the_holder_ring_is_half_the_difference_less_its_clearance(fit, value, verdict, remedies, words):
    found = judged("holder-wall", {"movement.fit_diameter": fit})
    assert found.value.value == pytest.approx(value, abs=1e-9)
    assert (found.verdict, kinds(found)) == (verdict, remedies)
    assert words in found.sentence


def test_a_thin_ring_is_turned_and_a_stout_one_printed():
    thin, stout = (judged("holder-wall", {"movement.fit_diameter": fit}) for fit in (27.3, 24.7))
    assert [thin.remedies[0].text, stout.remedies[0].text] == [
        "Turn the ring from metal, wall 0.60 mm.",
        "Print a holder ring, wall 1.90 mm.",
    ]


@pytest.mark.parametrize(
    ("front", "says"),
    [
        (28.5, "wall 1.90 mm."),
        (28.49, "wall 1.90 mm if split to spring in through the front, 1.89 mm at most if not."),
        (None, "wall 1.90 mm."),
    ],
)
def test_a_ring_that_a_narrow_front_keeps_out_is_split_or_thinner(front, says):
    """The ring for a bore of 28.70 mm is 28.50 mm wide with its clearance; half of the front less 24.70 mm is left."""
    case = FRONT | {"case.bore_diameter": 28.7, "case.front_opening_diameter": front}
    found = judged("holder-wall", case | {"movement.fit_diameter": 24.7})
    assert (found.value.value, found.verdict) == (pytest.approx(1.9), "work")
    assert found.remedies[0].text == f"Print a holder ring, {says}"


def test_each_diameter_counts_half_in_the_ring():
    found = judged("holder-wall", {"case.bore_diameter": [28.7, 0.04], "movement.fit_diameter": [24.7, 0.02]})
    assert (found.low, found.high) == pytest.approx((1.87, 1.93))
    assert found.value.shares == pytest.approx({"case.bore_diameter": 2 / 3, "movement.fit_diameter": 1 / 3})


@pytest.mark.parametrize(
    ("key", "path"),
    [
        ("case-bore", "movement.overall_diameter"),
        ("case-bore", "case.bore_diameter"),
        ("holder-wall", "movement.fit_diameter"),
    ],
)
def test_what_is_not_measured_is_named(key, path):
    found = judged(key, {path: None})
    assert (found.verdict, found.missing, found.value.value) == ("unclear", (path,), None)
