"""Hands on their posts, over dial and furniture, inside the opening, and their weight: every edge from both sides."""

import pytest

from tests.fit.sheets import ABSENT, judged, keys, kinds, report

POST = {"hour": 1.5, "minute": 0.9, "seconds": 0.25}
WIDE = {"movement.posts.seconds.diameter": 0.6}
"""A seconds post stout enough for a hole 0.31 mm smaller."""


@pytest.mark.parametrize("hand", POST)
@pytest.mark.parametrize(
    ("play", "verdict", "remedies"),
    [
        (-0.31, "no", []),
        (-0.3 - 1e-8, "no", []),
        (-0.3 - 1e-10, "work", ["work"]),
        (-0.3, "work", ["work"]),
        (-0.29, "work", ["work"]),
        (-0.03, "work", ["work"]),
        (-0.02, "fits", []),
        (-0.01, "fits", []),
        (0.0, "fits", []),
        (1e-10, "fits", []),
        (1e-8, "work", ["work"]),
        (0.01, "work", ["work"]),
        (0.02, "work", ["work"]),
        (0.03, "work", ["part"]),
        (0.1, "work", ["part"]),
        (0.11, "no", []),
    ],
)
def test_hole_on_post(hand, play, verdict, remedies):
    post = POST | {"seconds": 0.6}
    found = judged(f"post-{hand}", WIDE | {f"hands.{hand}.hole_diameter": post[hand] + play})
    assert found.value.value == pytest.approx(play, abs=1e-9)
    assert (found.verdict, kinds(found)) == (verdict, remedies)


@pytest.mark.parametrize(
    ("hole", "verdict", "remedies"),
    [
        ([1.49, 0.01], "fits", []),
        ([1.49, 0.02], "work", ["work", "work"]),
        ([1.51, 0.02], "work", ["work", "part"]),
        ([1.58, 0.03], "unclear", ["part"]),
        ([1.2, 0.01], "unclear", ["work"]),
        ([1.4, 0.5], "unclear", ["work", "work", "part"]),
        ([1.7, 0.09], "no", []),
        ([1.1, 0.05], "no", []),
    ],
)
def test_interval_of_hole_on_post(hole, verdict, remedies):
    found = judged("post-hour", {"hands.hour.hole_diameter": hole})
    assert (found.verdict, kinds(found)) == (verdict, remedies)


STIFF = {"rules": {"grip_min": 5.0}}
"""No hand can be lifted, so that the gaps are those of hands pressed flush."""
GAPS = [
    (0.04, "no", []),
    (0.05 - 1e-8, "no", []),
    (0.05 - 1e-10, "work", ["work"]),
    (0.05, "work", ["work"]),
    (0.06, "work", ["work"]),
    (0.14, "work", ["work"]),
    (0.15 - 1e-8, "work", ["work"]),
    (0.15 - 1e-10, "fits", []),
    (0.15, "fits", []),
    (0.16, "fits", []),
]


@pytest.mark.parametrize(
    ("key", "path", "at_zero"),
    [
        ("gap-hour-dial", "hands.hour.hub_height", 0.8),
        ("gap-hour-minute", "hands.minute.hub_height", 0.7),
        ("gap-minute-seconds", "hands.seconds.hub_height", 0.7),
        ("gap-furniture", "dial.furniture.0.height", 1.35),
    ],
)
@pytest.mark.parametrize(("gap", "verdict", "remedies"), GAPS)
def test_gap_below_a_hand(key, path, at_zero, gap, verdict, remedies):
    found = judged(key, STIFF | {path: at_zero - gap})
    assert found.value.value == pytest.approx(gap, abs=1e-9)
    assert (found.verdict, kinds(found)) == (verdict, remedies)


@pytest.mark.parametrize(
    ("hub", "verdict"),
    [([0.6, 0.05], "fits"), ([0.6, 0.06], "work"), ([0.6, 0.16], "unclear"), ([0.78, 0.02], "no")],
)
def test_interval_of_a_gap(hub, verdict):
    assert judged("gap-hour-dial", STIFF | {"hands.hour.hub_height": hub}).verdict == verdict


@pytest.mark.parametrize(
    ("inner", "value", "between"),
    [
        (11.5, 1.9, "Seconds hand to applied index"),
        (11.5 - 1e-6, 1.15, "Minute hand to applied index"),
        (8.0, 1.15, "Minute hand to applied index"),
        (8.0 - 1e-6, 0.45, "Hour hand to applied index"),
        (2.0, 0.45, "Hour hand to applied index"),
    ],
)
def test_a_hand_passes_over_furniture_that_begins_inside_its_reach(inner, value, between):
    found = judged("gap-furniture", {"dial.furniture.0.inner_radius": inner, "dial.furniture.0.outer_radius": 13.0})
    assert found.value.value == pytest.approx(value)
    assert found.sentence.startswith(between)


def test_a_long_tail_passes_over_furniture_too():
    found = judged("gap-furniture", {"hands.hour.tail": 9.1})
    assert found.value.value == pytest.approx(1.2 - 0.15 - 0.4 - 0.2)


@pytest.mark.parametrize("furniture", [[], None])
def test_no_furniture_no_check(furniture):
    assert "gap-furniture" not in keys(report({"dial.furniture": furniture}))


def test_furniture_beyond_all_hands_is_no_check():
    assert "gap-furniture" not in keys(
        report({"dial.furniture.0.inner_radius": 12.0, "dial.furniture.0.outer_radius": 13.0})
    )


def test_the_worst_verdict_decides_before_the_smallest_value():
    pieces = [
        {"name": "low", "inner_radius": 9.0, "outer_radius": 10.5, "height": [1.0, 0.4]},
        {"name": "high", "inner_radius": 9.0, "outer_radius": 10.5, "height": 1.1},
    ]
    found = judged("gap-furniture", {"dial.furniture": pieces} | STIFF)
    assert (found.value.value, found.verdict) == (pytest.approx(0.35), "unclear")
    assert "low" in found.sentence


@pytest.mark.parametrize(
    ("missing", "names"),
    [
        ({"dial.furniture.0.height": None}, ("dial.furniture[0].height",)),
        ({"dial.furniture.0.inner_radius": None}, ("dial.furniture[0].inner_radius",)),
        ({"hands.minute.thickness": None}, ("hands.minute.thickness",)),
        ({"hands.hour.length": None}, ("hands.hour.length",)),
        ({"hands.seconds.tail": None}, ()),
        ({"hands.hour.tail": None}, ("hands.hour.tail",)),
    ],
)
def test_what_the_gap_to_furniture_waits_for(missing, names):
    found = judged("gap-furniture", missing)
    assert found.missing == names
    assert (found.verdict == "unclear") == bool(names)


@pytest.mark.parametrize(
    ("length", "value", "verdict", "remedies"),
    [
        (13.71, 0.09, "no", []),
        (13.7, 0.1, "work", ["work"]),
        (13.7 + 1e-10, 0.1, "work", ["work"]),
        (13.69, 0.11, "work", ["work"]),
        (13.61, 0.19, "work", ["work"]),
        (13.6, 0.2, "fits", []),
        (13.59, 0.21, "fits", []),
        ([13.55, 0.1], 0.25, "work", ["work"]),
        ([13.55, 0.2], 0.25, "unclear", ["work"]),
        ([14.0, 0.2], -0.2, "no", []),
    ],
)
@pytest.mark.parametrize("end", ["hands.seconds.length", "hands.minute.tail", "hands.hour.length"])
def test_the_longest_end_of_any_hand_decides_the_tips(end, length, value, verdict, remedies):
    found = judged("tip-clearance", {end: length})
    assert found.value.value == pytest.approx(value, abs=1e-9)
    assert (found.verdict, kinds(found)) == (verdict, remedies)


@pytest.mark.parametrize(
    ("key", "mark", "length", "short", "far"),
    [
        ("reach-minute", "dial.minute_track_radius", 11.5, -1.5, 0.3),
        ("reach-hour", "dial.hour_marker_inner_radius", 8.0, -2.0, 1.0),
    ],
)
def test_reach_is_advice_and_asks_to_accept_outside_its_limits(key, mark, length, short, far):
    rows = ((short - 0.01, "work"), (short, "fits"), (short + 0.01, "fits"), (far, "fits"), (far + 0.01, "work"))
    for value, verdict in rows:
        found = judged(key, {mark: length - value})
        assert found.value.value == pytest.approx(value)
        assert (found.verdict, found.must) == (verdict, False)
        assert kinds(found) == (["accept"] if verdict == "work" else [])


@pytest.mark.parametrize(
    ("mass", "verdict"),
    [(101.9, "fits"), (1.0 / 0.00980665, "fits"), (102.0, "no"), ([101.9, 0.2], "unclear"), ([101.0, 0.5], "fits")],
)
def test_unbalance_against_its_limit(mass, verdict):
    """At 1 mm a hand of 1/(9.80665e-3) = 101.97 mg turns its post with 1 uN.m."""
    found = judged("unbalance-hour", {"hands.hour.mass": mass, "hands.hour.centre_of_mass": 1.0})
    assert (found.verdict, found.must) == (verdict, True)


@pytest.mark.parametrize(("hand", "value"), [("hour", 0.2353596), ("minute", 0.2941995), ("seconds", 0.0196133)])
def test_unbalance_of_each_hand(hand, value):
    found = judged(f"unbalance-{hand}")
    assert (found.value.value, found.unit) == (pytest.approx(value), "uN·m")


def test_unbalance_carries_mass_and_place_but_not_the_limit():
    found = judged(
        "unbalance-hour",
        {
            "hands.hour.mass": [12.0, 0.5],
            "hands.hour.centre_of_mass": [2.0, 0.1],
            "movement.unbalance_limits.hour": [1.0, 0.9],
        },
    )
    assert found.value.half_width == pytest.approx(9.80665e-3 * (0.5 * 2.0 + 12.0 * 0.1))
    assert found.verdict == "fits"


@pytest.mark.parametrize("path", ["hands.hour.mass", "hands.hour.centre_of_mass", "movement.unbalance_limits.hour"])
def test_unbalance_is_only_advice_while_something_is_missing(path):
    found = report({path: None})
    check = found["unbalance-hour"]
    assert (check.verdict, check.must, check.missing) == ("unclear", False, (path,))
    assert found.verdict == report().verdict == "work"


@pytest.mark.parametrize("seconds", ["null", "absent"])
def test_a_two_hand_watch_has_no_checks_of_a_seconds_hand(seconds):
    found = report({"hands.seconds": None if seconds == "null" else ABSENT})
    assert not [key for key in keys(found) if "seconds" in key]
    assert found["gap-crystal"].value.value == pytest.approx(2.4 + 0.4 - 1.9)
    assert found["tip-clearance"].value.value == pytest.approx(13.8 - 11.5)
    assert set(found.as_dict()["seating"]) == {"hour", "minute"}


def test_a_missing_number_of_one_hand_leaves_the_other_gaps_computable():
    found = report({"hands.minute.hub_height": None})
    assert found["gap-hour-minute"].missing == ("hands.minute.hub_height",)
    assert found["gap-hour-dial"].value.value == pytest.approx(0.3)
    assert found["gap-minute-seconds"].value.value == pytest.approx(0.3)
    assert found["gap-crystal"].value.value == pytest.approx(0.2)


def test_a_narrow_gap_says_where_to_set_the_hands():
    found = judged("gap-hour-dial", {"rules.gap_min": 0.9})
    assert (found.verdict, kinds(found)) == ("work", ["work"])
    assert found.remedies[0].text.startswith("Set under magnification: hour hub to dial, only ")
