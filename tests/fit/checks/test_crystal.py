"""Room under the crystal: flat, dome and bowed inwards, with the sphere worked out by hand."""

from math import sqrt

import pytest

from parts.fit.arithmetic.dome import sagitta, sphere_radius
from tests.fit.sheets import judged, kinds

STIFF = {"rules": {"grip_min": 5.0}}


@pytest.mark.parametrize(
    ("gap", "value", "verdict", "remedies"),
    [
        (2.24, 0.04, "no", []),
        (2.25, 0.05, "work", ["work"]),
        (2.26, 0.06, "work", ["work"]),
        (2.34, 0.14, "work", ["work"]),
        (2.35, 0.15, "fits", []),
        (2.36, 0.16, "fits", []),
        ([2.4, 0.05], 0.2, "fits", []),
        ([2.4, 0.06], 0.2, "work", ["work"]),
        ([2.4, 0.16], 0.2, "unclear", ["work"]),
        ([2.0, 0.2], -0.2, "no", []),
    ],
)
def test_flat_crystal(gap, value, verdict, remedies):
    found = judged("gap-crystal", STIFF | {"case.crystal_gap_centre": gap})
    assert found.value.value == pytest.approx(value, abs=1e-9)
    assert (found.verdict, kinds(found)) == (verdict, remedies)


def dome(centre, edge, radius=15.0):
    return STIFF | {
        "case.crystal_gap_centre": centre,
        "case.crystal_gap_edge": edge,
        "case.crystal_edge_radius": radius,
    }


def test_dome_at_the_edge_radius_has_the_edge_gap():
    """Centre 7.4, edge 2.4 at 15: a sphere of 25 (15-20-25); a hand 15 long would meet 2.4, here one of 7 meets 6.4."""
    changes = dome(7.4, 2.4) | {"hands.seconds.length": 7.0, "hands.minute.length": 7.0, "hands.hour.length": 7.0}
    assert judged("gap-crystal", changes).value.value == pytest.approx(7.4 - (25 - sqrt(25**2 - 7**2)) - 2.2)
    assert judged("gap-crystal", changes).value.value == pytest.approx(4.2)
    assert judged("gap-crystal", dome(7.4, 2.4, 12.0)).value.value == pytest.approx(2.4 - 2.2)


def test_a_lower_but_longer_hand_may_be_the_tightest_under_a_dome():
    found = judged("gap-crystal", dome(3.4, 1.6, 12.0) | {"hands.seconds.length": 3.0, "hands.minute.length": 12.0})
    assert found.sentence.startswith("Minute hand to crystal")
    assert found.value.value == pytest.approx(1.6 - 1.5)


def test_a_tail_longer_than_its_hand_counts():
    """Sphere of 24.9...: at 12 the dome has fallen to the edge gap, so a tail of 12 finds just that."""
    long_tail = dome(3.4, 2.4, 12.0) | {"hands.seconds.length": 5.0, "hands.seconds.tail": 12.0}
    assert judged("gap-crystal", long_tail).value.value == pytest.approx(0.2)


def test_bowed_inwards_the_centre_is_the_tightest():
    found = judged("gap-crystal", dome(2.4, 3.0))
    assert found.value.value == pytest.approx(0.2)


@pytest.mark.parametrize("rise", [0.0, 9e-7, -1.0e-6])
def test_hardly_any_rise_is_flat(rise):
    assert judged("gap-crystal", dome(2.4, 2.4 - rise)).value.value == pytest.approx(0.2, abs=1e-9)


def test_a_spacer_in_front_or_behind_adds_to_the_room():
    for placement in ("front", "rear"):
        changes = STIFF | {"case.stem_axis_depth": 2.3, "spacer.placement": placement}
        assert judged("gap-crystal", changes).value.value == pytest.approx(0.5)


def test_beyond_the_sphere_the_dome_has_fallen_by_its_radius():
    """Half a ball of 5: every hand longer than 5 is given the gap at its equator."""
    far = {"rules": {"grip_min": 5.0, "dome_beyond_max": 20.0}}
    check = judged("gap-crystal", dome(7.4, 2.4, [5.0, 0.02]) | far)
    assert check.value.value == pytest.approx(0.2)
    assert check.value.half_width == pytest.approx(0.02)


@pytest.mark.parametrize(
    ("radius", "missing"),
    [
        (12.0, ()),
        (11.5, ()),
        (11.5 - 1e-10, ()),
        (11.5 - 1e-8, ("case.crystal_gap_edge",)),
        (9.0, ("case.crystal_gap_edge",)),
    ],
)
def test_a_dome_is_known_half_a_millimetre_beyond_its_edge_gap(radius, missing):
    """The seconds hand reaches 12.00."""
    check = judged("gap-crystal", dome(3.4, 3.0, radius))
    assert check.missing == missing
    assert (check.verdict == "unclear") is bool(missing)


def test_bowed_inwards_or_flat_there_is_nothing_beyond_the_edge_gap():
    assert judged("gap-crystal", dome(2.4, 3.0, 5.0)).missing == ()
    assert judged("gap-crystal", dome(2.4, 2.4, 5.0)).missing == ()


@pytest.mark.parametrize("path", ["case.crystal_gap_centre", "case.crystal_gap_edge", "case.crystal_edge_radius"])
def test_a_dome_needs_all_three_numbers(path):
    found = judged("gap-crystal", dome(3.4, 2.4) | {path: None})
    assert (found.verdict, found.missing) == ("unclear", (path,))


def test_a_flat_crystal_does_not_ask_for_the_length_of_the_hands():
    found = judged("gap-crystal", {"hands.minute.length": None, "hands.minute.tail": None})
    assert found.value.value == pytest.approx(0.2)
    domed = judged("gap-crystal", dome(3.4, 2.4) | {"hands.minute.tail": None})
    assert domed.missing == ("hands.minute.tail",)


@pytest.mark.parametrize(
    "path",
    [
        "case.crystal_gap_centre",
        "case.crystal_gap_edge",
        "case.crystal_edge_radius",
        "hands.seconds.length",
        "movement.posts.seconds.height",
        "dial.thickness",
    ],
)
def test_a_domes_interval_is_the_slope_times_the_plus_minus(path):
    """Slopes by central differences on the sheet itself."""
    where = {
        "case.crystal_gap_centre": 4.0,
        "case.crystal_gap_edge": 2.6,
        "case.crystal_edge_radius": 13.0,
        "hands.seconds.length": 12.0,
        "movement.posts.seconds.height": 2.6,
        "dial.thickness": 0.4,
    }
    at = where[path]
    up, down = (judged("gap-crystal", dome(4.0, 2.6, 13.0) | {path: at + h}).value.value for h in (1e-5, -1e-5))
    found = judged("gap-crystal", dome(4.0, 2.6, 13.0) | {path: [at, 0.02]})
    assert found.value.half_width == pytest.approx(abs(up - down) / 2e-5 * 0.02, rel=1e-5)
    assert found.value.half_width > 0


def test_sphere_and_sagitta_are_inverse():
    for rise, radius in ((0.3, 14.0), (1.7, 12.5), (5.0, 15.0)):
        assert sagitta(sphere_radius(rise, radius), radius) == pytest.approx(rise)
    assert sagitta(25.0, 0.0) == 0.0
