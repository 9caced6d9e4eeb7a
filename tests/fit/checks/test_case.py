"""Movement in bore and holder: every band's edge from both sides, with the differences worked out by hand."""

import pytest

from tests.fit.sheets import judged, kinds


@pytest.mark.parametrize(
    ("bore", "value", "verdict"),
    [
        (25.94, -0.01, "no"),
        (25.95 - 1e-8, -1e-8, "no"),
        (25.95 - 1e-10, 0.0, "fits"),
        (25.95, 0.0, "fits"),
        (25.96, 0.01, "fits"),
        ([25.96, 0.01], 0.01, "fits"),
        ([25.96, 0.02], 0.01, "unclear"),
        ([25.93, 0.02], -0.02, "unclear"),
        ([25.92, 0.02], -0.03, "no"),
    ],
)
def test_the_movement_passes_the_bore_from_no_room_upwards(bore, value, verdict):
    found = judged("case-bore", {"case.bore_diameter": bore})
    assert found.value.value == pytest.approx(value, abs=1e-9)
    assert found.verdict == verdict
    assert found.must
    assert kinds(found) == []


@pytest.mark.parametrize(
    ("fit", "value", "verdict", "remedies", "words"),
    [
        (25.81, -0.005, "fits", [], "directly"),
        (25.8, 0.0, "fits", [], "directly"),
        (25.8 - 2e-10, 1e-10, "fits", [], "directly"),
        (25.79, 0.005, "work", ["part"], "too thin to print"),
        (24.22, 0.79, "work", ["part"], "too thin to print"),
        (24.2, 0.8, "work", ["part"], "fills the gap to the bore"),
        (24.2 + 2e-10, 0.8, "work", ["part"], "fills the gap to the bore"),
        (24.18, 0.81, "work", ["part"], "fills the gap to the bore"),
        ([24.2, 0.1], 0.8, "work", ["part", "part"], "fills the gap to the bore"),
        ([25.82, 0.1], -0.01, "work", ["part"], "may need work"),
    ],
)
def test_the_holder_ring_is_half_the_difference_less_its_clearance(fit, value, verdict, remedies, words):
    found = judged("holder-wall", {"movement.fit_diameter": fit})
    assert found.value.value == pytest.approx(value, abs=1e-9)
    assert (found.verdict, kinds(found)) == (verdict, remedies)
    assert words in found.sentence


def test_a_thin_ring_is_turned_and_a_stout_one_printed():
    thin, stout = (judged("holder-wall", {"movement.fit_diameter": fit}) for fit in (24.6, 22.0))
    assert [thin.remedies[0].text, stout.remedies[0].text] == [
        "Turn the ring from metal, wall 0.60 mm.",
        "Print a holder ring, wall 1.90 mm.",
    ]


def test_each_diameter_counts_half_in_the_ring():
    found = judged("holder-wall", {"case.bore_diameter": [26.0, 0.04], "movement.fit_diameter": [22.0, 0.02]})
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
