"""The dial in its seat, under its opening and round the hour post: every edge from both sides."""

import pytest

from tests.fit.sheets import judged, kinds


@pytest.mark.parametrize(
    ("seat", "value", "verdict", "remedies"),
    [
        (27.99, -0.51, "no", []),
        (28.0 - 1e-10, -0.5, "work", ["work"]),
        (28.0, -0.5, "work", ["work"]),
        (28.51, 0.01, "work", ["work"]),
        (28.52 - 1e-8, 0.01999999, "work", ["work"]),
        (28.52, 0.02, "fits", []),
        (28.53, 0.03, "fits", []),
        (28.8, 0.3, "fits", []),
        (28.8 + 1e-10, 0.3, "fits", []),
        (28.81, 0.31, "work", ["part"]),
        ([28.6, 0.08], 0.1, "fits", []),
        ([28.6, 0.09], 0.1, "work", ["work"]),
        ([28.7, 0.11], 0.2, "work", ["part"]),
        ([28.6, 0.3], 0.1, "work", ["work", "part"]),
        ([28.0, 0.01], -0.5, "unclear", ["work"]),
        ([27.8, 0.1], -0.7, "no", []),
    ],
)
def test_play_of_the_dial_in_its_seat(seat, value, verdict, remedies):
    found = judged("dial-seat", {"case.dial_seat_diameter": seat})
    assert found.value.value == pytest.approx(value, abs=1e-9)
    assert (found.verdict, kinds(found)) == (verdict, remedies)


@pytest.mark.parametrize(
    ("opening", "value", "verdict", "remedies"),
    [
        (28.52, -0.01, "no", []),
        (28.5, 0.0, "work", ["accept"]),
        (28.48, 0.01, "work", ["accept"]),
        (28.12, 0.19, "work", ["accept"]),
        (28.1, 0.2, "fits", []),
        (28.1 + 2e-10, 0.2, "fits", []),
        (28.1 + 2e-8, 0.19999999, "work", ["accept"]),
        (28.08, 0.21, "fits", []),
        ([28.4, 0.1], 0.05, "work", ["accept"]),
        ([28.4, 0.12], 0.05, "unclear", ["accept"]),
    ],
)
def test_edge_of_the_dial_under_the_rim(opening, value, verdict, remedies):
    found = judged("dial-opening", {"case.dial_opening_diameter": opening})
    assert found.value.value == pytest.approx(value, abs=1e-9)
    assert (found.verdict, kinds(found)) == (verdict, remedies)


@pytest.mark.parametrize(
    ("hole", "value", "verdict", "remedies"),
    [
        (0.49, -1.01, "no", []),
        (0.5, -1.0, "work", ["work"]),
        (0.51, -0.99, "work", ["work"]),
        (1.59, 0.09, "work", ["work"]),
        (1.6, 0.1, "fits", []),
        (1.61, 0.11, "fits", []),
        ([1.61, 0.02], 0.11, "work", ["work"]),
        ([0.5, 0.01], -1.0, "unclear", ["work"]),
    ],
)
def test_hour_post_in_the_centre_hole(hole, value, verdict, remedies):
    found = judged("centre-hole", {"dial.centre_hole_diameter": hole})
    assert found.value.value == pytest.approx(value, abs=1e-9)
    assert (found.verdict, kinds(found)) == (verdict, remedies)


def test_the_hole_is_opened_to_the_post_and_its_play():
    found = judged("centre-hole", {"dial.centre_hole_diameter": 1.2})
    assert [remedy.text for remedy in found.remedies] == ["Open the centre hole to at least 1.60 mm."]


@pytest.mark.parametrize(
    ("key", "path"),
    [
        ("dial-seat", "case.dial_seat_diameter"),
        ("dial-seat", "dial.diameter"),
        ("dial-opening", "case.dial_opening_diameter"),
        ("centre-hole", "dial.centre_hole_diameter"),
        ("centre-hole", "movement.posts.hour.diameter"),
    ],
)
def test_what_is_not_measured_is_named(key, path):
    found = judged(key, {path: None})
    assert (found.verdict, found.missing, found.sentence.split(":")[0]) == ("unclear", (path,), "Not measured yet")
