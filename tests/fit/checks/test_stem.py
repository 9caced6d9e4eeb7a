"""Stem and crown: threads, length, cut plan, second road and tube, worked out by hand.

In the base sheet L = 17.00 + 0.05 + 2.00 - 4.00 = 15.05.
"""

import pytest

from tests.fit.sheets import judged, kinds, report

NO_THREAD = {"stem.thread": None}


@pytest.mark.parametrize(
    ("crown", "value", "verdict"),
    [
        (0.894, -0.006, "work"),
        (0.895, -0.005, "fits"),
        (0.9, 0.0, "fits"),
        (0.905, 0.005, "fits"),
        (0.905 + 1e-10, 0.005, "fits"),
        (0.905 + 1e-8, 0.005, "work"),
        (0.906, 0.006, "work"),
        (1.2, 0.3, "work"),
        ([0.9, 0.005], 0.0, "fits"),
        ([0.9, 0.006], 0.0, "work"),
    ],
)
def test_crown_and_movement_threads(crown, value, verdict):
    found = judged("stem-thread", NO_THREAD | {"crown.thread": crown})
    assert found.value.value == pytest.approx(value, abs=1e-7)
    assert found.verdict == verdict
    assert kinds(found) == (["part"] if verdict == "work" else [])


def test_the_stems_own_thread_must_suit_both():
    found = judged("stem-thread", {"stem.thread": 1.2})
    assert (found.value.value, found.verdict, kinds(found)) == (0.0, "work", ["part"])
    assert found.sentence == "Threads differ: stem 1.20 mm, movement 0.90 mm."
    assert judged("stem-thread", {"stem.thread": 0.895}).verdict == "fits"
    between = judged("stem-thread", {"crown.thread": 0.904, "stem.thread": 0.8985, "movement.stem_thread": 0.9})
    assert between.verdict == "work"
    assert "Threads differ: crown" in between.sentence


@pytest.mark.parametrize(
    ("length", "value", "verdict", "remedies"),
    [
        (15.04, -0.01, "work", ["part"]),
        (15.05 - 1e-8, -1e-8, "work", ["part"]),
        (15.05, 0.0, "work", ["work"]),
        (15.06, 0.01, "work", ["work"]),
        (16.0, 0.95, "work", ["work"]),
        ([15.1, 0.1], 0.05, "work", ["work", "part"]),
        ([15.0, 0.1], -0.05, "work", ["part", "work"]),
    ],
)
def test_length_of_the_stem(length, value, verdict, remedies):
    found = judged("stem-length", {"stem.length": length})
    assert found.value.value == pytest.approx(value, abs=1e-7)
    assert (found.verdict, kinds(found)) == (verdict, remedies)


@pytest.mark.parametrize(
    ("length", "verdict"), [(15.04, "work"), (15.05, "fits"), (15.25, "fits"), (15.26, "work"), (16.0, "work")]
)
def test_a_shop_may_leave_a_stem_slightly_long(length, verdict):
    assert judged("stem-length", {"stem.length": length, "rules": {"stem_long_ok": 0.2}}).verdict == verdict


@pytest.mark.parametrize(
    ("changes", "length"),
    [
        ({}, 15.05),
        ({"rules": {"crown_gap": 0.1}}, 15.1),
        ({"crown.style": "screw", "crown.spring_travel": 0.8}, 15.4),
        ({"crown.bore_depth": 2.5}, 15.55),
        ({"case.crown_seat_radius": 18.0}, 16.05),
        ({"movement.stem_reference_radius": 5.0}, 14.05),
    ],
)
def test_the_length_wanted(changes, length):
    assert report(changes).stem.length == pytest.approx(length)


def test_half_of_the_spring_travel_counts_half():
    found = judged("stem-length", {"crown.style": "screw", "crown.spring_travel": [0.8, 0.1]})
    assert found.value.half_width == pytest.approx(0.05)


def test_the_cut_plan():
    stem = report({"stem.length": 18.0}).as_dict()["stem"]
    assert (stem["length"], stem["cut_off"]) == pytest.approx((15.05, 2.95))
    assert [step["length"] for step in stem["plan"]] == pytest.approx([15.55, 15.15, 15.05])


@pytest.mark.parametrize(("length", "steps"), [(15.5, 2), (15.12, 1), (15.05, 0), (14.0, 0), (None, 3)])
def test_steps_that_the_stem_is_too_short_for_are_left_out(length, steps):
    assert len(report({"stem.length": length}).stem.steps) == steps


def test_the_second_road_by_the_gap_under_the_crown():
    """Uncut gap 1.10 less the 0.05 that stays: cut off 1.05; the first road says 0.95, so they are 0.10 apart."""
    stem = report({"stem.uncut_gap": 1.1}).as_dict()["stem"]
    assert stem["gap_cut_off"] == pytest.approx(1.05)
    assert stem["disagreement"] == pytest.approx(-0.1)
    assert report().as_dict()["stem"]["gap_cut_off"] is None


def test_the_second_road_alone():
    stem = report({"stem.uncut_gap": 1.1, "case.crown_seat_radius": None}).as_dict()["stem"]
    assert (stem["length"], stem["gap_cut_off"], stem["disagreement"]) == (None, pytest.approx(1.05), None)


@pytest.mark.parametrize(
    ("changes", "missing"),
    [
        ({"crown.style": None}, ("crown.style",)),
        ({"crown.style": "screw"}, ("crown.spring_travel",)),
        ({"crown.bore_depth": None}, ("crown.bore_depth",)),
        ({"case.crown_seat_radius": None}, ("case.crown_seat_radius",)),
        ({"movement.stem_reference_radius": None}, ("movement.stem_reference_radius",)),
        ({"stem.length": None}, ("stem.length",)),
    ],
)
def test_what_the_length_waits_for(changes, missing):
    found = judged("stem-length", changes)
    assert (found.verdict, found.missing, found.must) == ("unclear", missing, True)


@pytest.mark.parametrize(
    ("tube", "value", "verdict", "remedies"),
    [
        (2.49, -0.01, "work", ["part"]),
        (2.5, 0.0, "fits", []),
        (2.51, 0.01, "fits", []),
        (2.65, 0.15, "fits", []),
        (2.66, 0.16, "work", ["part"]),
        ([2.6, 0.2], 0.1, "work", ["part"]),
    ],
)
def test_crown_over_the_tube(tube, value, verdict, remedies):
    found = judged("crown-tube", {"crown.tube_bore_diameter": tube})
    assert found.value.value == pytest.approx(value, abs=1e-9)
    assert (found.verdict, kinds(found), found.must) == (verdict, remedies, False)


@pytest.mark.parametrize("path", ["crown.thread", "movement.stem_thread"])
def test_a_missing_thread_is_named(path):
    found = judged("stem-thread", {path: None})
    assert (found.verdict, found.missing) == ("unclear", (path,))
