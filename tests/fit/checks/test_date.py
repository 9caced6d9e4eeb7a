"""The date in its window: lean, place, cut and neighbours, by hand and against a geometry library.

In the base sheet a numeral of 1.2 x 1.5 stands in the middle of a window of 1.6 x 2.0.
"""

from math import cos, hypot, radians, sin

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import affinity
from shapely.geometry import box as rectangle

from parts.fit.arithmetic.polygon import area_inside, width_inside
from parts.fit.checks.window import PITCH, box, cut_share, sliver, turn_between
from tests.fit.sheets import judged, keys, kinds, report

OFFSET = "movement.date.numeral_radius"
NONE = "none"


@pytest.mark.parametrize(
    ("angle", "value", "verdict"),
    [
        (0.0, 0.0, "fits"),
        (5.8, 0.0, "fits"),
        (PITCH / 2 - 1e-6, 0.0, "fits"),
        (PITCH / 2 + 1e-6, PITCH, "work"),
        (5.9, PITCH, "work"),
        (-5.9, PITCH, "work"),
        (17.4, PITCH, "work"),
        (17.5, 2 * PITCH, "work"),
        (90.0, 8 * PITCH, "work"),
        (180.0, 16 * PITCH, "work"),
        (354.2, 0.0, "fits"),
    ],
)
def test_lean_goes_by_whole_steps_of_the_disc(angle, value, verdict):
    found = judged("date-tilt", {"movement.date.angle": angle})
    assert found.value.value == pytest.approx(value)
    assert (found.verdict, found.unit) == (verdict, "deg")
    steps = round(value / PITCH)
    assert kinds(found) == [[], ["accept"], ["part"]][min(steps, 2)]


def test_more_than_one_step_off_asks_for_another_disc_and_says_what_comes_without():
    check = judged("date-tilt", {"movement.date.angle": 90.0})
    assert check.sentence.endswith("Without another disc the answer is no.")
    assert check.remedies[0].text.startswith("Get a date disc printed for this window")


def test_lean_carries_no_interval():
    found = judged("date-tilt", {"case.stem_angle": [90, 2.0], "movement.date.angle": [0, 2.0]})
    assert (found.value.half_width, found.verdict) == (0.0, "fits")


@pytest.mark.parametrize(
    ("stem", "date", "window"), [(90, 0, 90), (0, 90, 90), (120, 60, 180), (270, 180, 90), (-90, 0, 270)]
)
def test_the_movement_turns_with_the_stem(stem, date, window):
    changes = {"case.stem_angle": stem, "movement.date.angle": date, "dial.window.angle": window}
    found = report(changes)
    assert [found[key].value.value for key in ("date-tilt", "date-position", "date-cut")] == pytest.approx(
        [0, 0, 0], abs=1e-9
    )


@pytest.mark.parametrize(
    ("delta", "steps"), [(0, 0), (5.0, 0), (7.0, 1), (-7.0, -1), (179.0, 15), (181.0, -15), (360.0, 0), (-350.0, 1)]
)
def test_the_turn_is_taken_the_short_way(delta, steps):
    found = turn_between(delta, 0.0)
    assert found[0] == steps
    assert (found[0] * PITCH + found[1] - delta) % 360 == pytest.approx(0.0, abs=1e-9) or (
        found[0] * PITCH + found[1] - delta
    ) % 360 == pytest.approx(360.0, abs=1e-9)


def test_half_a_step_goes_to_the_even_number():
    assert turn_between(PITCH / 2, 0.0)[0] == 0
    assert turn_between(3 * PITCH / 2, 0.0)[0] == 2
    assert turn_between(180.0, 0.0)[0] == 16


@pytest.mark.parametrize(
    ("off", "verdict", "remedies"),
    [
        (0.0, "fits", []),
        (0.19, "fits", []),
        (0.2, "fits", []),
        (0.2 + 1e-10, "fits", []),
        (0.21, "work", ["accept"]),
        (0.99, "work", ["accept"]),
        (1.0, "work", ["accept"]),
        (1.01, "no", []),
        (-0.21, "work", ["accept"]),
    ],
)
def test_place_of_the_numeral_along_the_radius(off, verdict, remedies):
    found = judged("date-position", {OFFSET: 10.0 + off})
    assert found.value.value == pytest.approx(abs(off), abs=1e-9)
    assert (found.verdict, kinds(found)) == (verdict, remedies)


def test_place_of_the_numeral_across_the_radius():
    """A turn of 2 degrees at radius 10 moves the numeral by the chord 20 sin 1."""
    found = judged("date-position", {"movement.date.angle": 2.0})
    assert found.value.value == pytest.approx(20 * sin(radians(1.0)))


@pytest.mark.parametrize(
    ("radius", "verdict"),
    [([10.1, 0.1], "fits"), ([10.1, 0.11], "work"), ([10.9, 0.11], "unclear"), ([11.2, 0.1], "no")],
)
def test_interval_of_the_place(radius, verdict):
    assert judged("date-position", {OFFSET: radius}).verdict == verdict


def test_on_the_middle_both_directions_count_in_full():
    found = judged(
        "date-position", {OFFSET: [10.0, 0.05], "dial.window.radius": [10.0, 0.03], "movement.date.angle": [0, 1.0]}
    )
    assert found.value.half_width == pytest.approx(0.05 + 0.03 + 10.0 * radians(1.0))


def test_almost_on_the_middle_counts_as_on_it():
    """Angles that only meet within rounding must not drop the uncertainty along the radius."""
    changes = {"case.stem_angle": 16.9, "movement.date.angle": 73.2, "dial.window.angle": 90.1}
    found = judged("date-position", changes | {OFFSET: [10.0, 0.25]})
    assert found.value.half_width == pytest.approx(0.25)
    assert found.verdict == "work"


def test_off_the_middle_the_turn_counts_across_and_the_radii_along():
    found = judged("date-position", {OFFSET: [10.3, 0.02], "movement.date.angle": [0, 1.0]})
    assert found.value.spread["movement.date.angle"] == pytest.approx(0.0)
    assert found.value.half_width == pytest.approx(0.02)


@pytest.mark.parametrize(
    ("radial", "value", "verdict", "remedies"),
    [
        (1.2, 0.0, "fits", []),
        (1.188, 0.01, "fits", []),
        (1.176, 0.02, "fits", []),
        (1.164, 0.03, "work", ["accept"]),
        (1.032, 0.14, "work", ["accept"]),
        (1.02, 0.15, "work", ["accept"]),
        (1.02 - 1.2e-8, 0.15 + 1e-8, "no", []),
        (1.008, 0.16, "no", []),
        ([1.1, 0.02], 1 - 1.1 / 1.2, "work", ["accept"]),
        ([1.1, 0.09], 1 - 1.1 / 1.2, "unclear", ["accept"]),
    ],
)
def test_share_of_the_numeral_cut_off(radial, value, verdict, remedies):
    found = judged("date-cut", {"dial.window.radial": radial})
    assert found.value.value == pytest.approx(value, abs=1e-7)
    assert (found.verdict, kinds(found), found.unit) == (verdict, remedies, "share")


def neighbour_top(radius, turn=PITCH, radial=1.2, tangential=1.5):
    """How near to the window's middle the box one step on comes, across the radius."""
    return radius * sin(radians(turn)) - radial / 2 * sin(radians(turn)) - tangential / 2 * cos(radians(turn))


@pytest.mark.parametrize(
    ("shows", "verdict", "remedies"),
    [
        (0.0, "fits", []),
        (0.05, "fits", []),
        (0.05 + 1e-7, "work", ["accept"]),
        (0.06, "work", ["accept"]),
        (0.6, "work", ["accept"]),
        (0.61, "no", []),
    ],
)
def test_width_of_a_neighbours_sliver(shows, verdict, remedies):
    """The window is wide enough along the radius to show the neighbour's nearest corner."""
    half = neighbour_top(10.0) + shows
    found = judged("date-neighbours", {"dial.window.radial": 4.0, "dial.window.tangential": 2 * half})
    assert found.value.value == pytest.approx(shows, abs=1e-9)
    assert (found.verdict, kinds(found)) == (verdict, remedies)


def test_a_numeral_off_to_one_side_shows_more_of_one_neighbour_and_both_are_told():
    found = judged(
        "date-neighbours", {"movement.date.angle": -2.0, "dial.window.radial": 4.0, "dial.window.tangential": 2.8}
    )
    after = 1.4 - neighbour_top(10.0, PITCH - 2.0)
    assert found.value.value == pytest.approx(after)
    assert f"0.00 mm of the day before, {after:.2f} mm of the day after" in found.sentence


def test_no_window_no_date_checks():
    found = report({"dial.window": NONE})
    assert [key for key in keys(found) if key.startswith("date-")] == ["date-present"]


@pytest.mark.parametrize(
    ("changes", "value", "verdict", "words"),
    [
        ({}, 1, "fits", "has what the dial shows"),
        ({"dial.window": NONE}, 1, "fits", "one crown position does nothing"),
        ({"dial.window": NONE, "movement.date": NONE}, 1, "fits", "no window and the movement no date"),
        ({"dial.window": NONE, "movement.date": None}, 1, "fits", "The dial has no window."),
        ({"dial.window": False, "movement.date": False}, 1, "fits", "no window"),
        ({"movement.date": NONE}, 0, "work", "no date"),
        ({"dial.day_window": True}, 0, "work", "no day"),
        ({"dial.day_window": True, "movement.day": True}, 1, "fits", "has what the dial shows"),
        ({"dial.day_window": True, "movement.date": NONE}, 0, "work", "no date or day"),
        (
            {"dial.window": NONE, "dial.day_window": True, "movement.day": True},
            1,
            "fits",
            "one crown position does nothing",
        ),
    ],
)
def test_what_the_windows_ask_for(changes, value, verdict, words):
    found = judged("date-present", changes)
    assert (found.value.value, found.verdict) == (value, verdict)
    assert words in found.sentence
    assert kinds(found) == (["accept"] if verdict == "work" else [])


@pytest.mark.parametrize(
    ("changes", "missing"),
    [
        ({"dial.window": None}, ("dial.window",)),
        ({"movement.date": None}, ("movement.date",)),
        ({"dial.window": None, "movement.date": None}, ("dial.window",)),
    ],
)
def test_a_window_or_a_date_that_nobody_looked_at_is_missing(changes, missing):
    found = report(changes)
    assert (found["date-present"].verdict, found["date-present"].missing) == ("unclear", missing)
    assert found.verdict == "unclear"
    assert [key for key in keys(found) if key.startswith("date-")][:1] == ["date-present"]
    assert "date-cut" not in keys(found)


@pytest.mark.parametrize(
    ("path", "touched"),
    [
        ("case.stem_angle", ["date-tilt", "date-position", "date-cut", "date-neighbours"]),
        ("movement.date.numeral_radius", ["date-position", "date-cut", "date-neighbours"]),
        ("dial.window.radius", ["date-position", "date-cut", "date-neighbours", "date-disc"]),
        ("movement.date.numeral_radial", ["date-cut", "date-neighbours"]),
        ("dial.window.tangential", ["date-cut", "date-neighbours"]),
    ],
)
def test_a_missing_number_leaves_the_other_date_checks_computable(path, touched):
    found = report({path: None, OFFSET: None if path == OFFSET else 10.3})
    dates = [check for check in found.checks if check.key.startswith("date-") and check.key != "date-present"]
    assert [check.key for check in dates if check.missing == (path,)] == touched
    place = found["date-position"]
    if "date-position" not in touched:
        assert (place.value.value, place.verdict) == (pytest.approx(0.3), "work")


MEASURE = st.floats(0.5, 3.0)


@settings(max_examples=150, deadline=None)
@given(st.floats(-5.8, 5.8), st.floats(8, 12), MEASURE, MEASURE, st.floats(-1.5, 1.5), MEASURE, MEASURE)
def test_clipping_against_a_geometry_library(turn, radius, radial, tangential, off, window_radial, window_tangential):
    window = rectangle(-window_radial / 2, -window_tangential / 2, window_radial / 2, window_tangential / 2)
    for j in (-1, 0, 1):
        a = turn + j * PITCH
        printed = affinity.rotate(rectangle(-radial / 2, -tangential / 2, radial / 2, tangential / 2), a, origin=(0, 0))
        x, y = radius * cos(radians(a)) - (radius + off), radius * sin(radians(a))
        seen = affinity.translate(printed, x, y).intersection(window)
        sizes = (turn, radius, radial, tangential, radius + off, window_radial, window_tangential)
        if j:
            tall = seen.bounds[3] - seen.bounds[1] if seen.area > 1e-12 else 0.0
            assert sliver(j, *sizes) == pytest.approx(tall, abs=1e-6)
        else:
            assert cut_share(*sizes) == pytest.approx(1 - seen.area / (radial * tangential), abs=1e-9)


def test_clipping_by_hand():
    square = [(0, 0), (2, 0), (2, 2), (0, 2)]
    assert (area_inside(square, 1, 1), width_inside(square, 1, 1)) == (pytest.approx(1.0), pytest.approx(1.0))
    assert (area_inside(square, 3, 3), width_inside(square, 3, 3)) == (pytest.approx(4.0), pytest.approx(2.0))
    outside = [(5, 5), (6, 5), (6, 6)]
    assert (area_inside(outside, 1, 1), width_inside(outside, 1, 1)) == (0.0, 0.0)
    diamond = [(-3, 0), (0, -3), (3, 0), (0, 3)]
    assert area_inside(diamond, 2, 2) == pytest.approx(18 - 4 * 1.0)
    assert width_inside(diamond, 1, 2.5) == pytest.approx(5.0)
    assert area_inside([(0, 0), (0, 1), (1, 0)], 0.5, 0.5) == pytest.approx(0.25)


def test_an_edge_along_the_rectangles_own():
    strip = [(-1, -5), (1, -5), (1, 0.25), (-1, 0.25)]
    assert width_inside(strip, 1, 0.5) == pytest.approx(0.75)
    assert area_inside(strip, 1, 0.5) == pytest.approx(1.5)


@pytest.mark.parametrize("path", [OFFSET, "movement.date.angle", "dial.window.radius"])
def test_the_interval_of_the_place_is_slope_times_plus_minus(path):
    base = {OFFSET: 10.3, "movement.date.angle": 3.0, "dial.window.radius": 10.1}
    up, down = (judged("date-position", base | {path: base[path] + h}).value.value for h in (1e-5, -1e-5))
    assert judged("date-position", base | {path: [base[path], 0.1]}).value.half_width == pytest.approx(
        abs(up - down) / 2e-5 * 0.1, rel=1e-5
    )
    angle = radians(3.0)
    off = hypot(10.3 * cos(angle) - 10.1, 10.3 * sin(angle))
    assert judged("date-position", base).value.value == pytest.approx(off)


def test_cut_and_neighbours_are_told_by_both_ends_of_each_number():
    """A numeral that just clears the edge: nothing to one side, the whole of the plus-minus to the other."""
    check = judged("date-cut", {"dial.window.radial": [1.2, 0.06]})
    assert (check.value.value, check.low, check.high) == pytest.approx((0.0, 0.0, 0.05), abs=1e-9)
    half = neighbour_top(10.0)
    hidden = judged("date-neighbours", {"dial.window.radial": 4.0, "dial.window.tangential": [2 * half, 0.2]})
    assert (hidden.value.value, hidden.low, hidden.high) == pytest.approx((0.0, 0.0, 0.1), abs=1e-9)
    assert hidden.verdict == "work"


def test_falls_and_rises_of_several_numbers_add_up():
    changes = {"dial.window.radial": 1.1, OFFSET: 10.0}
    alone = [judged("date-cut", changes | {path: [changes[path], 0.03]}) for path in changes]
    both = judged("date-cut", {path: [at, 0.03] for path, at in changes.items()})
    value = both.value.value
    assert both.high - value == pytest.approx(sum(check.high - value for check in alone))
    assert value - both.low == pytest.approx(sum(value - check.low for check in alone))
    assert sum(both.value.shares.values()) == pytest.approx(1.0)


def test_a_share_stays_between_nothing_and_all():
    check = judged("date-cut", {OFFSET: [10.0, 2.0]})
    assert (check.low, check.high) == (0.0, 1.0)


@pytest.mark.parametrize("path", ["movement.date.numeral_radial", "movement.date.numeral_tangential"])
def test_a_numeral_whose_plus_minus_is_as_wide_as_itself_has_an_answer(path):
    check = judged("date-cut", {path: [1.2, 1.2]})
    assert check.low == 0.0
    assert check.verdict == "unclear"


@pytest.mark.parametrize(("turn", "radial"), [(-2.0, 4.0), (2.0, 4.0)])
def test_the_wider_of_two_slivers_stands_for_both_on_either_side(turn, radial):
    wide = 2 * (neighbour_top(10.0, PITCH - 2.0) + 0.04)
    changes = {"movement.date.angle": turn, "dial.window.radial": radial, "dial.window.tangential": wide}
    check = judged("date-neighbours", changes)
    assert check.value.value == pytest.approx(0.04, abs=1e-6)
    assert check.verdict == "fits"
    assert "0.04 mm" in check.sentence


def test_a_numeral_turned_by_a_quarter_stands_across_the_radius():
    corners = box(0, 90.0, 10.0, 1.2, 1.6, 4.0)
    expected = [(-4.8, 10.6), (-3.2, 10.6), (-3.2, 9.4), (-4.8, 9.4)]
    assert [value for corner in corners for value in corner] == pytest.approx(
        [value for corner in expected for value in corner]
    )
