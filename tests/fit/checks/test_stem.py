"""Stem and crown: threads, length, cut plan, second road and tube, worked out by hand.

In the base sheet L = 17.00 + 0.05 + 2.00 - 4.00 = 15.05.
"""

import pytest

from parts.fit import check_sheet
from tests.fit.sheets import judged, kinds, report, sheet

NO_THREAD = {"stem.thread": None}


@pytest.mark.parametrize(
    ("crown", "value", "verdict"),
    [
        (0.867 - 1e-8, -0.033, "work"),
        (0.867 - 1e-10, 0.0, "fits"),
        (0.867, 0.0, "fits"),
        (0.894, 0.0, "fits"),
        (0.9, 0.0, "fits"),
        (0.9 + 1e-10, 0.0, "fits"),
        (0.905, 0.005, "fits"),
        (0.905 + 1e-10, 0.005, "fits"),
        (0.905 + 1e-8, 0.005, "work"),
        (0.906, 0.006, "work"),
        ([0.906, 0.006], 0.0, "fits"),
        ([0.86, 0.006], -0.04, "work"),
        ([0.86, 0.007], 0.0, "fits"),
        (1.2, 0.3, "work"),
        (1.17, 0.3, "work"),
    ],
)
def test_crown_and_movement_threads(crown, value, verdict):
    found = judged("stem-thread", NO_THREAD | {"crown.thread": crown})
    assert found.value.value == pytest.approx(value, abs=1e-6)
    assert found.verdict == verdict
    assert kinds(found) == (["part"] if verdict == "work" else [])


def test_the_stems_own_thread_must_suit_both():
    found = judged("stem-thread", {"stem.thread": 1.2})
    assert (found.value.value, found.verdict, kinds(found)) == (0.0, "work", ["part"])
    assert found.sentence == "Threads differ: stem 1.20 mm, movement 0.90 mm."
    assert judged("stem-thread", {"stem.thread": 0.895}).verdict == "fits"
    between = judged("stem-thread", {"crown.thread": 0.936, "stem.thread": 0.944, "movement.stem_thread": 0.94})
    assert between.verdict == "work"
    assert "Threads differ: crown" in between.sentence


@pytest.mark.parametrize("size", [0.5, 0.55, 1.0, 1.1])
def test_a_number_that_may_be_either_of_two_threads_is_unclear(size):
    """Between 0.50 and 0.55, the closest pair, lies 0.479 to 0.5 and 0.529 to 0.55: ±0.02 round 0.515 meets both."""
    near = {0.5: [0.515, 0.02], 0.55: [0.515, 0.02], 1.0: [1.03, 0.035], 1.1: [1.03, 0.035]}[size]
    found = judged("stem-thread", NO_THREAD | {"movement.stem_thread": size, "crown.thread": near})
    assert (found.verdict, found.sentence) == (
        "unclear",
        "The thread may be one of two sizes: measure it more closely.",
    )
    asked = dict(report(NO_THREAD | {"movement.stem_thread": size, "crown.thread": near}).measure_next)
    assert asked["crown.thread"] == ("stem-thread",)


def test_a_thread_is_told_by_its_name():
    found = judged("stem-thread", NO_THREAD | {"crown.thread": 0.88, "movement.stem_thread": 0.87})
    assert (found.verdict, found.sentence) == ("fits", "The crown and movement have the same thread, 0.90 mm.")


@pytest.mark.parametrize(
    ("crown", "movement", "verdict"),
    [
        (0.225, 0.225, "fits"),
        (0.225, 0.2295, "fits"),
        (0.225, 0.25, "work"),
        ([0.225, 0.02], 0.25, "fits"),
        ([0.225, 0.01], 0.25, "work"),
        (0.225, None, "fits"),
        (None, 0.25, "fits"),
    ],
)
def test_where_both_pitches_are_known_they_must_agree(crown, movement, verdict):
    changes = NO_THREAD | {"crown.thread_pitch": crown, "movement.stem_thread_pitch": movement}
    found = report({})["stem-thread"].verdict
    assert found == "fits"
    data = sheet(NO_THREAD)
    data["crown"]["thread_pitch"], data["movement"]["stem_thread_pitch"] = crown, movement
    found = check_sheet(data)["stem-thread"]
    assert (found.verdict, kinds(found)) == (verdict, ["part"] if verdict == "work" else []), changes


def test_an_inch_thread_is_no_thread_of_1_20():
    """0.048 in is 1.219 mm: beyond every window of the series, so it keeps its number."""
    assert judged("stem-thread", NO_THREAD | {"crown.thread": 1.219, "movement.stem_thread": 1.2}).verdict == "work"


@pytest.mark.parametrize(
    ("length", "value", "verdict", "remedies"),
    [
        (14.99, -0.06, "work", ["part"]),
        (15.0 - 1e-8, -0.05, "work", ["part"]),
        (15.0, -0.05, "fits", []),
        (15.05, 0.0, "fits", []),
        (15.15, 0.1, "fits", []),
        (15.16, 0.11, "work", ["work"]),
        (16.0, 0.95, "work", ["work"]),
        ([15.1, 0.1], 0.05, "work", ["work"]),
        ([15.0, 0.04], -0.05, "work", ["part"]),
        ([15.1, 0.2], 0.05, "work", ["work"]),
    ],
)
def test_length_of_the_stem(length, value, verdict, remedies):
    found = judged("stem-length", {"stem.length": length})
    assert found.value.value == pytest.approx(value, abs=1e-7)
    assert (found.verdict, kinds(found)) == (verdict, remedies)


@pytest.mark.parametrize(
    ("length", "verdict"), [(14.99, "work"), (15.0, "fits"), (15.25, "fits"), (15.26, "work"), (16.0, "work")]
)
def test_a_shop_may_leave_a_stem_slightly_long(length, verdict):
    assert judged("stem-length", {"stem.length": length, "rules": {"stem_long_ok": 0.2}}).verdict == verdict


def test_a_stem_that_may_be_too_short_or_too_long_is_measured_first():
    (remedy,) = judged("stem-length", {"stem.length": [15.1, 0.2]}).remedies
    assert remedy.text.startswith("Measure the stem and the crown's bore depth again")


@pytest.mark.parametrize(
    ("length", "remedies"),
    [([15.05, 0.08], ["work"]), ([15.01, 0.04], ["work"]), ([15.0, 0.04], ["part"]), ([14.99, 0.04], ["part"])],
)
def test_a_stem_cut_to_its_length_is_tried_with_its_crown_and_not_replaced_for_its_uncertainty(length, remedies):
    check = judged("stem-length", {"stem.length": length})
    assert (check.verdict, kinds(check)) == ("work", remedies)
    assert check.remedies[0].text.startswith("Try the crown") is (remedies == ["work"])


def test_a_short_thread_makes_another_stem_of_what_would_be_cut():
    """0.95 has to go; of a thread 2.00 long 1.5 x 0.90 = 1.35 must stay, so that 0.65 may go."""
    data = sheet()
    data["stem"]["thread_length"] = 2.0
    found = check_sheet(data)["stem-length"]
    assert (found.verdict, kinds(found)) == ("work", ["part"])
    assert found.remedies[0].text == "Get another stem, with thread enough for 15.05 mm."


@pytest.mark.parametrize(
    ("body", "value", "verdict"), [(1.95, 0.05, "work"), (1.9, 0.1, "fits"), (2.01, -0.01, "no"), (None, 1.1, "fits")]
)
def test_the_stems_body_passes_the_tube_its_thread_where_that_was_not_measured(body, value, verdict):
    found = judged("stem-tube", {"stem.diameter": body})
    assert (found.value.value, found.verdict) == (pytest.approx(value), verdict)


def test_the_stem_in_its_tube_is_advice_where_the_tube_was_not_measured():
    found = report({"case.tube_bore_diameter": None})
    assert (found["stem-tube"].must, found["stem-tube"].verdict) == (False, "unclear")
    assert found.verdict == report().verdict
    lost = report({"stem.thread": None})["stem-tube"]
    assert (lost.must, lost.verdict, lost.missing) == (True, "unclear", ("stem.thread",))


def test_a_crown_that_came_with_its_tube_needs_no_numbers():
    own = {"crown.own_tube": True, "case.tube_outer_diameter": None}
    assert judged("crown-tube", own).verdict == "fits"
    assert judged("crown-tube", own | {"case.tube_outer_diameter": 2.3}).verdict == "work"


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
