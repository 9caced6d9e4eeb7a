"""Every band's edge of the fit model's sections 4, 4a and 5: just below, on and just above it, within the slack or not.

An edge belongs to the better of its two bands. Each row sets one number so that the check's value is `v`.
"""

import pytest

from tests.fit.sheets import judged, kinds

NO, FITS, WORK, PART, ACCEPT = (
    ("no", []),
    ("fits", []),
    ("work", ["work"]),
    ("work", ["part"]),
    ("work", ["accept"]),
)
ORDER = [FITS, WORK, ACCEPT, PART, NO]
"""From better to worse."""
STIFF = {"rules": {"grip_min": 5.0}}
FAR_BACK = {"case.back_depth": 9.0}
FRONT = FAR_BACK | {"spacer.placement": "front", "rules": {"spacer_pm": 0}}
TRIMMED = {"case.dial_seat_diameter": 28.4}
"""The dial is reduced to 28.38, radius 14.19."""
WIDE_HUB = {"hands.hour.hub_diameter": 3.0, "hands.minute.hub_diameter": 3.0, "hands.seconds.hub_diameter": 3.0}
NARROW_HUB = {"hands.hour.hub_diameter": 1.79, "hands.minute.hub_diameter": 1.19, "hands.seconds.hub_diameter": 0.54}
"""Each 0.29 wider than its post: 0.15 of wall all round is not there."""
LONG_THREAD = {"stem.thread_length": 3.0}
"""1.5 x 0.90 has to stay: up to 1.65 may go."""


def pads(v):
    return {"dial.fixing": "pads", "dial.pad_thickness": v}


def hole(hand, post):
    return lambda v: {f"hands.{hand}.hole_diameter": post + v}


BANDS = [
    ("case-bore", {}, lambda v: {"case.bore_diameter": 28.65 + v}, [NO, 0.0, WORK, 0.02, FITS]),
    ("dial-bore", {}, lambda v: {"case.bore_diameter": 28.5 + v}, [NO, -0.5, WORK, 0.0, FITS]),
    ("holder-wall", {}, lambda v: {"movement.fit_diameter": 28.5 - 2 * v}, [FITS, 0.0, WORK, 0.1, PART]),
    ("stem-height", FAR_BACK, lambda v: {"case.stem_axis_depth": 2 + v}, [NO, -0.1, FITS, 0.1, PART]),
    ("back-gap", {}, lambda v: {"case.back_depth": 3.9 + v}, [NO, 0.0, WORK, 0.1, FITS]),
    ("dial-seat", {}, lambda v: {"case.dial_seat_diameter": 28.5 + v}, [NO, -0.5, WORK, 0.02, FITS, 0.3, PART]),
    ("dial-opening", {}, lambda v: {"case.dial_opening_diameter": 28.5 - 2 * v}, [NO, 0.0, ACCEPT, 0.2, FITS]),
    ("dial-opening", TRIMMED, lambda v: {"case.dial_opening_diameter": 28.38 - 2 * v}, [NO, 0.0, ACCEPT, 0.2, FITS]),
    ("dial-trim", TRIMMED, lambda v: {"dial.minute_track_radius": 14.19 - v}, [NO, 0.0, ACCEPT, 0.1, FITS]),
    ("dial-furniture", {}, lambda v: {"dial.furniture.0.outer_radius": 13.8 - v}, [NO, 0.0, WORK, 0.1, FITS]),
    ("dial-sunk", FRONT, lambda v: {"case.stem_axis_depth": 2 + v}, [FITS, 0.3, ACCEPT]),
    ("dial-held", FRONT | {"case.stem_axis_depth": 2.3}, lambda v: {"case.seat_wall": 0.3 + v}, [WORK, 0.1, FITS]),
    ("hour-wheel", {}, pads, [FITS, 0.05, PART]),
    ("date-depth", {}, pads, [FITS, 0.2, ACCEPT]),
    ("centre-hole", {}, lambda v: {"dial.centre_hole_diameter": 1.5 + v}, [NO, -1.0, WORK, 0.2, FITS]),
    ("hole-cover", {}, lambda v: {"hands.hour.boss_diameter": 1.8 + v}, [ACCEPT, 0.0, FITS]),
    (
        "pad-room",
        {"dial.feet": []},
        lambda v: {"movement.date.disc_outer_radius": 13.95 - v},
        [WORK, 0.5, FITS],
    ),
    ("post-hour", WIDE_HUB, hole("hour", 1.5), [WORK, -0.02, FITS, 0.0, WORK, 0.03, PART]),
    ("post-minute", WIDE_HUB, hole("minute", 0.9), [WORK, -0.02, FITS, 0.0, WORK, 0.03, PART]),
    ("post-seconds", WIDE_HUB, hole("seconds", 0.25), [WORK, -0.015, FITS, 0.0, WORK, 0.03, PART]),
    ("post-hour", NARROW_HUB, hole("hour", 1.5), [NO, -0.1, WORK, -0.02, FITS, 0.0, WORK, 0.03, NO]),
    ("post-minute", NARROW_HUB, hole("minute", 0.9), [NO, -0.1, WORK, -0.02, FITS, 0.0, WORK, 0.03, NO]),
    ("post-seconds", NARROW_HUB, hole("seconds", 0.25), [NO, -0.1, WORK, -0.015, FITS, 0.0, WORK, 0.03, NO]),
    ("gap-hour-dial", STIFF, lambda v: {"hands.hour.hub_height": 0.8 - v}, [NO, 0.05, WORK, 0.15, FITS]),
    ("gap-hour-minute", STIFF, lambda v: {"hands.minute.hub_height": 0.7 - v}, [NO, 0.05, WORK, 0.15, FITS]),
    ("gap-minute-seconds", STIFF, lambda v: {"hands.seconds.hub_height": 0.7 - v}, [NO, 0.05, WORK, 0.15, FITS]),
    ("gap-furniture", STIFF, lambda v: {"dial.furniture.0.height": 1.35 - v}, [NO, 0.05, WORK, 0.15, FITS]),
    ("gap-crystal", STIFF, lambda v: {"case.crystal_gap_centre": 2.2 + v}, [NO, 0.05, WORK, 0.15, FITS]),
    ("gap-crystal", {"hands.seconds": None}, lambda v: {"case.crystal_gap_centre": 2.2 + v}, [WORK, 0.15, FITS]),
    ("tip-clearance", {}, lambda v: {"case.dial_opening_diameter": 24 + 2 * v}, [NO, 0.1, WORK, 0.2, FITS]),
    ("reach-minute", {}, lambda v: {"dial.minute_track_radius": 11.5 - v}, [ACCEPT, -1.5, FITS, 0.3, ACCEPT]),
    ("reach-hour", {}, lambda v: {"dial.hour_marker_inner_radius": 8.0 - v}, [ACCEPT, -2.0, FITS, 1.0, ACCEPT]),
    ("stem-tube", {}, lambda v: {"case.tube_bore_diameter": 0.9 + v}, [NO, 0.0, WORK, 0.1, FITS]),
    ("date-disc", {}, lambda v: {"movement.date.disc_outer_radius": 10.8 - v}, [FITS, 0.02, ACCEPT]),
    ("date-disc", {}, lambda v: {"movement.date.disc_inner_radius": 9.2 + v}, [FITS, 0.02, ACCEPT]),
    ("stem-length", {}, lambda v: {"stem.length": 15.05 + v}, [PART, -0.05, FITS, 0.1, WORK]),
    ("stem-length", LONG_THREAD, lambda v: {"stem.length": 15.05 + v}, [FITS, 0.1, WORK, 1.65, PART]),
    ("crown-tube", {}, lambda v: {"crown.tube_bore_diameter": 2.5 + v}, [PART, 0.0, FITS, 0.15, PART]),
]
ADVICE = {
    "pad-room",
    "dial-sunk",
    "hour-wheel",
    "date-depth",
    "hole-cover",
    "reach-minute",
    "reach-hour",
    "date-disc",
} | {"crown-tube"}
EDGES = [
    pytest.param(key, changes, at, band, edge, above, id=f"{key} {edge:g} {'' if i < 2 else i}".strip())
    for key, changes, at, row in BANDS
    for i in range(1, len(row), 2)
    for band, edge, above in [row[i - 1 : i + 2]]
]


@pytest.mark.parametrize(("key", "changes", "at", "below", "edge", "above"), EDGES)
def test_an_edge_belongs_to_the_better_band(key, changes, at, below, edge, above):
    better_above = ORDER.index(above) < ORDER.index(below)
    rows = [(-0.005, below), (-1e-8, below), (1e-8, above), (0.005, above)]
    rows += [(by, above if better_above else below) for by in (-1e-10, 0.0, 1e-10)]
    for by, expected in rows:
        check = judged(key, changes | at(edge + by))
        assert check.value.value == pytest.approx(edge + by, abs=1e-9)
        assert (check.verdict, kinds(check)) == expected, by
        assert check.must is (key not in ADVICE)


@pytest.mark.parametrize(("key", "changes", "at", "below", "edge", "above"), EDGES)
def test_an_interval_across_an_edge_is_the_worse_band_and_unclear_where_that_is_no(
    key, changes, at, below, edge, above
):
    """The number is known to ±0.004.

    Posts are left out, where a number so coarse asks for a try on the post, and a spacer, made to its nominal size.
    """
    if key.startswith("post-") or key == "dial-sunk":
        return
    ((path, value),) = [item for item in at(edge).items() if item[0] != "dial.fixing"]
    check = judged(key, changes | at(edge) | {path: [value, 0.004]})
    worse = max(below, above, key=ORDER.index)
    assert check.verdict == ("unclear" if worse == NO else worse[0])
