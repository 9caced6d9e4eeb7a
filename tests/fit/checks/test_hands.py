"""Hands on their posts, over dial and furniture, inside the opening, and their weight: every edge from both sides."""

import pytest

from tests.fit.sheets import ABSENT, judged, keys, kinds, report

POST = {"hour": 1.5, "minute": 0.9, "seconds": 0.25}
HUBS = {"hour": 2.2, "minute": 1.6, "seconds": 0.8}


def hole(hand, play, **more):
    """The base sheet's post with a hole that much wider."""
    own = {f"hands.{hand}.{name}": value for name, value in more.items()}
    return {f"hands.{hand}.hole_diameter": POST[hand] + play} | own


@pytest.mark.parametrize("hand", POST)
@pytest.mark.parametrize(
    ("spare", "narrow", "wide"),
    [(0.29, "no", "no"), (0.3 - 1e-8, "no", "no"), (0.3 - 1e-10, "work", "no"), (0.3, "work", "no")],
)
def test_the_hubs_wall_decides_what_can_be_opened_and_bushed(hand, spare, narrow, wide):
    """Opening needs 0.15 of wall round the post; a bush 0.15 of its own and 0.15 of hub round that, 0.30 in all."""
    hub = {"hub_diameter": POST[hand] + spare}
    assert judged(f"post-{hand}", hole(hand, -0.11, **hub)).verdict == narrow
    assert judged(f"post-{hand}", hole(hand, 0.04, **hub)).verdict == wide


@pytest.mark.parametrize(
    ("play", "hub", "verdict"),
    [(0.04, 2.1, "work"), (0.04, 2.1 - 1e-8, "no"), (0.5, 2.3, "work"), (0.5, 2.3 - 1e-8, "no"), (0.5, 2.2, "no")],
)
def test_a_bush_keeps_its_wall_round_the_post_and_the_hub_its_wall_round_the_bush(play, hub, verdict):
    """The post is 1.50: a bush is at least 1.80 wide, or as wide as the hole 2.00; the hub 0.30 wider than that."""
    assert judged("post-hour", hole("hour", play, hub_diameter=hub)).verdict == verdict


@pytest.mark.parametrize(("play", "verdict"), [(-0.11, "unclear"), (-0.1, "work"), (0.03, "work"), (0.04, "unclear")])
def test_where_the_wall_decides_the_hub_has_to_be_measured(play, verdict):
    found = report(hole("hour", play, hub_diameter=None))
    check = found["post-hour"]
    assert check.verdict == verdict
    assert check.undecided == (("hands.hour.hub_diameter",) if verdict == "unclear" else ())
    assert verdict == "work" or found.measure_next[0][0] == "hands.hour.hub_diameter"


def test_a_hub_that_may_be_too_narrow_is_unclear():
    check = judged("post-hour", hole("hour", -0.2, hub_diameter=[1.8, 0.02]))
    assert (check.verdict, check.undecided) == ("unclear", ("hands.hour.hub_diameter", "movement.posts.hour.diameter"))


@pytest.mark.parametrize(
    ("post", "play", "verdict"),
    [(0.49, -0.02, "work"), (0.49, -0.015, "fits"), (0.5, -0.02, "fits"), (0.5 - 1e-10, -0.02, "fits")],
)
def test_a_thin_post_takes_less_of_a_press_fit(post, play, verdict):
    changes = {"movement.posts.seconds.diameter": post, "hands.seconds.hole_diameter": post + play}
    assert judged("post-seconds", changes).verdict == verdict


@pytest.mark.parametrize(
    ("hole", "verdict", "remedy"),
    [
        ([1.49, 0.009], "fits", ""),
        ([1.49, 0.01], "fits", ""),
        ([1.485, 0.009], "work", "Open"),
        ([1.49, 0.02], "work", "Try"),
        ([1.51, 0.02], "work", "Try"),
        ([1.6, 0.01], "work", "Try"),
        ([1.6, 0.009], "work", "Bush"),
        ([1.601, 0.01], "work", "Bush"),
        ([1.4, 0.01], "work", "Try"),
        ([1.4, 0.3], "work", "Try"),
        ([1.399, 0.05], "work", "Open"),
        ([1.2, 0.01], "work", "Open"),
    ],
)
def test_interval_of_hole_on_post(hole, verdict, remedy):
    """The press fit's band is 0.02: from ±0.01 on, and within 0.10 of the post, the hand is to be tried."""
    check = judged("post-hour", {"hands.hour.hole_diameter": hole, "hands.hour.hub_diameter": 3.0})
    assert check.verdict == verdict
    assert [item.text.split()[0] for item in check.remedies] == ([remedy] if remedy else [])


def test_a_hand_that_surely_cannot_go_on_is_not_to_be_tried():
    assert (
        judged("post-hour", {"hands.hour.hole_diameter": [1.58, 0.04], "hands.hour.hub_diameter": 1.79}).verdict == "no"
    )


def test_opening_or_closing_a_hole_is_told_by_pin_gauges_first():
    """Far off by value, but so coarse that both may be: neither is said, and the measuring comes first."""
    check = judged("post-hour", {"hands.hour.hole_diameter": [1.39, 0.12], "hands.hour.hub_diameter": 3.0})
    assert [remedy.text for remedy in check.remedies] == [
        "Measure the hour hand's hole and its post with pin gauges: then open it or close it."
    ]


@pytest.mark.parametrize(
    ("tried", "play", "verdict", "remedies"),
    [
        ("grips", 0.05, "fits", []),
        ("grips", [0.0, 0.2], "fits", []),
        ("grips", None, "fits", []),
        ("tight", 0.02, "work", ["Open the hour hand to fit its post."]),
        ("tight", None, "work", ["Open the hour hand to fit its post."]),
        ("loose", 0.0, "work", ["Close the hour hand's collet."]),
        ("loose", 0.03, "work", ["Close the hour hand's collet."]),
        ("loose", 0.04, "work", ["Bush the hour hand for the 1.50 mm post."]),
        ("loose", [0.05, 0.015], "work", ["Bush the hour hand for the 1.50 mm post."]),
        ("loose", None, "unclear", []),
    ],
)
def test_trying_a_hand_on_decides_over_its_numbers(tried, play, verdict, remedies):
    size = [1.5 + play[0], play[1]] if isinstance(play, list) else play and 1.5 + play
    size = 1.5 if play == 0.0 else size
    check = judged("post-hour", {"hands.hour.tried": tried, "hands.hour.hole_diameter": size})
    assert (check.verdict, [remedy.text for remedy in check.remedies]) == (verdict, remedies)
    assert check.missing == (("hands.hour.hole_diameter",) if verdict == "unclear" else ())


NARROW = {"hands.hour.tried": "tight", "hands.hour.hub_diameter": 1.79}
"""A wall of 0.145 mm would be left round the 1.50 mm post."""


@pytest.mark.parametrize(
    ("changes", "verdict", "remedies"),
    [
        ({"hands.hour.hole_diameter": 1.40}, "work", ["Open the hour hand to fit its post."]),
        ({"hands.hour.hole_diameter": 1.40 - 1e-8}, "no", []),
        ({"hands.hour.hole_diameter": 1.3, "hands.hour.hub_diameter": 1.8}, "work", ["Open"]),
        ({"hands.hour.hole_diameter": 1.3, "hands.hour.hub_diameter": None}, "unclear", []),
        ({"hands.hour.hole_diameter": None}, "unclear", []),
        ({"hands.hour.hole_diameter": None, "hands.hour.hub_diameter": 1.8}, "work", ["Open"]),
        ({"hands.hour.hole_diameter": None, "hands.hour.hub_diameter": None}, "work", ["Open"]),
    ],
)
def test_a_tight_hand_is_opened_only_where_its_hub_does_not_break(changes, verdict, remedies):
    """Opening it by 0.10 takes no thought; beyond that, or where nobody knows how far, the hub's wall decides."""
    check = judged("post-hour", NARROW | changes)
    assert (check.verdict, len(check.remedies)) == (verdict, len(remedies))
    assert all(remedy.text.startswith(words) for remedy, words in zip(check.remedies, remedies, strict=True))


def sold(hand, post):
    return {
        "hands.hour.hole_diameter": None,
        "hands.hour.made_for": hand,
        "movement.posts.hour.made_for": post,
        "movement.posts.hour.diameter": None,
        "hands.hour.hub_diameter": 3.0,
    }


@pytest.mark.parametrize(
    ("hand", "post", "verdict"),
    [
        (1.5, 1.5, "fits"),
        (1.505, 1.5, "fits"),
        (1.505 + 1e-8, 1.5, "work"),
        (1.495, 1.5, "fits"),
        (1.47, 1.5, "work"),
        (1.2, 1.5, "work"),
        (1.6, 1.5, "work"),
    ],
)
def test_a_hand_of_which_only_the_trade_size_is_known(hand, post, verdict):
    assert judged("post-hour", sold(hand, post)).verdict == verdict


def test_trade_sizes_that_differ_are_judged_by_their_difference():
    assert judged("post-hour", sold(1.6, 1.5)).value.value == pytest.approx(0.1)
    assert judged("post-hour", sold(1.502, 1.5)).value.value == 0.0


def test_a_hole_that_was_measured_counts_before_its_trade_size():
    changes = sold(1.5, 1.5) | {"hands.hour.hole_diameter": 1.4, "movement.posts.hour.diameter": 1.5}
    assert judged("post-hour", changes).value.value == pytest.approx(-0.1)


@pytest.mark.parametrize("lost", ["hands.hour.made_for", "movement.posts.hour.made_for"])
def test_one_trade_size_alone_says_nothing(lost):
    assert judged("post-hour", sold(1.5, 1.5) | {lost: None}).verdict == "unclear"


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
    found = report({"hands.seconds": None if seconds == "null" else ABSENT, "movement.posts.seconds.height": None})
    assert not [key for key in keys(found) if "seconds" in key]
    assert found["gap-crystal"].value.value == pytest.approx(2.4 + 0.4 - 1.9)
    assert found["tip-clearance"].value.value == pytest.approx(13.8 - 11.5)
    assert set(found.as_dict()["seating"]) == {"hour", "minute"}


TWO_HANDS = {"hands.seconds": None}


@pytest.mark.parametrize(
    ("gap", "value", "cut"), [(2.4, 0.2, None), (2.3, 0.1, "2.55 mm"), (2.2, 0.0, "2.45 mm"), (1.9, -0.3, "2.15 mm")]
)
def test_a_bare_post_is_cut_or_taken_out_where_it_does_not_clear_the_crystal(gap, value, cut):
    """Its top stands 2.60 above the dial rest, 2.20 above the dial's face."""
    check = judged("gap-crystal", TWO_HANDS | {"case.crystal_gap_centre": gap})
    assert check.value.value == pytest.approx(value)
    said = f"Cut the bare seconds post to {cut} above the dial rest, or take it out."
    assert [remedy.text for remedy in check.remedies] == ([said] if cut else [])
    assert check.verdict == ("work" if cut else "fits")


def test_a_bare_post_rises_by_its_end_play_and_does_not_hold_the_hands_down():
    changes = TWO_HANDS | {"case.crystal_gap_centre": 2.3, "movement.posts.seconds.end_play": 0.04}
    assert judged("gap-crystal", changes).value.value == pytest.approx(0.06)
    low = report(TWO_HANDS | {"case.crystal_gap_centre": 1.9, "hands.hour.hub_height": 0.7})
    assert low.as_dict()["seating"]["hour"]["lift"] == pytest.approx(0.05)
    assert low.pairing.seating.gap == pytest.approx(0.15)


def test_a_hand_that_does_not_clear_decides_over_a_bare_post():
    check = judged("gap-crystal", TWO_HANDS | {"case.crystal_gap_centre": 1.54})
    assert (check.verdict, check.value.value) == ("no", pytest.approx(0.04))
    assert check.sentence.startswith("Minute hand to crystal")


def test_end_play_counts_for_what_lies_above_a_hand():
    """The hour post rises 0.10, the seconds post 0.12: the gaps above them shrink, those below do not."""
    changes = STIFF | {"movement.posts.hour.end_play": 0.1, "movement.posts.seconds.end_play": 0.12}
    found = report(changes)
    gaps = {key: found[key].value.value for key in ("gap-hour-dial", "gap-hour-minute", "gap-minute-seconds")}
    assert gaps == pytest.approx({"gap-hour-dial": 0.3, "gap-hour-minute": 0.15, "gap-minute-seconds": 0.3})
    assert found["gap-crystal"].value.value == pytest.approx(0.08)


@pytest.mark.parametrize(("pad", "rise"), [(0.05, 0.05), (0.06, 0.0)])
def test_the_hour_wheel_rises_by_what_no_washer_takes_up(pad, rise):
    """Up to 0.05 behind the dial no washers are called for, and the hour wheel has so much more play."""
    changes = STIFF | {"dial.fixing": "pads", "dial.pad_thickness": pad, "case.back_depth": 9.0}
    assert judged("gap-hour-minute", changes).value.value == pytest.approx(0.25 - rise)


def test_a_closed_tube_stands_higher_and_grips_less():
    """With a cap of 0.10 the minute hand's hub bottom, blade and top stand 0.10 higher."""
    found = report(STIFF | {"hands.minute.cap_thickness": 0.1})
    values = [found[key].value.value for key in ("gap-hour-minute", "gap-minute-seconds", "gap-furniture")]
    assert values == pytest.approx([0.35, 0.2, 1.25])
    lifted = report({"hands.hour.hub_height": 0.8, "hands.hour.cap_thickness": 0.05, "rules": {"grip_min": 0.7}})
    assert lifted.as_dict()["seating"]["hour"] == pytest.approx({"lift": 0.05, "height_above_dial": 0.9})
    assert lifted["gap-hour-dial"].value.value == pytest.approx(0.1)


def test_a_stepped_blade_lies_lower_and_its_hub_as_before():
    found = report(STIFF | {"hands.minute.blade_step": 0.2})
    assert found["gap-furniture"].value.value == pytest.approx(0.95)
    assert found["gap-minute-seconds"].value.value == pytest.approx(0.3)


@pytest.mark.parametrize(("boss", "value"), [(18.0, 1.15), (18.002, 0.1), (None, 1.15)])
def test_the_hour_hands_boss_stands_over_furniture_inside_its_own_radius(boss, value):
    """Its underside is 0.30 above the dial, 0.10 over an index 0.20 high that begins 9.00 from the centre."""
    check = judged("gap-furniture", STIFF | {"hands.hour.boss_diameter": boss})
    assert check.value.value == pytest.approx(value)


def test_the_hub_stands_over_the_dials_face_at_its_centre():
    found = report(STIFF | {"dial.centre_thickness": 0.5})
    assert found["gap-hour-dial"].value.value == pytest.approx(0.2)
    assert found["gap-furniture"].value.value == pytest.approx(1.15)


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
