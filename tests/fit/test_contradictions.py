"""Two numbers that cannot both be true are refused, both keys and both numbers named; doubts change nothing."""

import pytest

from parts.fit import SheetError, check_sheet
from tests.fit.sheets import report, sheet

PAIRS = [
    ("case.dial_opening_diameter", "case.dial_seat_diameter", 27.6, 27.6, True),
    ("movement.fit_diameter", "movement.overall_diameter", 28.65, 28.65, False),
    ("case.tube_bore_diameter", "case.tube_outer_diameter", 2.5, 2.5, True),
    ("case.stem_axis_depth", "case.back_depth", 2.0, 2.0, True),
    ("movement.stem_axis_depth", "movement.back_height", 1.6, 1.6, True),
    ("movement.posts.hour.height", "movement.posts.minute.height", 1.9, 1.9, True),
    ("movement.posts.minute.height", "movement.posts.seconds.height", 2.6, 2.6, True),
    ("hands.hour.hole_diameter", "hands.hour.hub_diameter", 1.49, 1.49, True),
    ("hands.minute.hole_diameter", "hands.minute.hub_diameter", 0.89, 0.89, True),
    ("hands.seconds.hole_diameter", "hands.seconds.hub_diameter", 0.24, 0.24, True),
    ("hands.hour.thickness", "hands.hour.hub_height", 0.5, 0.5, False),
    ("movement.date.disc_inner_radius", "movement.date.disc_outer_radius", 9.0, 9.0, False),
    ("dial.furniture[0].inner_radius", "dial.furniture[0].outer_radius", 9.0, 9.0, False),
]
"""The smaller number, the larger, the two where they meet, and whether they may not even be alike."""


def plain(path):
    return path.replace("[", ".").replace("]", "")


def refusal(changes):
    with pytest.raises(SheetError) as caught:
        check_sheet(sheet(changes))
    return caught.value


@pytest.mark.parametrize(("low", "high", "small", "large", "strict"), PAIRS)
def test_two_numbers_the_wrong_way_round_are_refused_with_both(low, high, small, large, strict):
    error = refusal({plain(low): small + 0.01, plain(high): large})
    assert (error.key, error.other) == (high, low)
    assert low in str(error)
    assert high in str(error)
    assert f"{small + 0.01:.2f} mm" in str(error)
    assert str(large) in str(error)
    if strict:
        assert refusal({plain(low): small, plain(high): large}).key == high
    else:
        assert check_sheet(sheet({plain(low): small, plain(high): large})).verdict
    assert check_sheet(sheet({plain(low): small - 0.01, plain(high): large})).verdict


@pytest.mark.parametrize(("low", "high", "small", "large", "strict"), PAIRS)
def test_what_may_be_true_within_its_plus_minus_is_accepted(low, high, small, large, strict):
    changes = {plain(low): [small + 0.01, 0.006], plain(high): [large, 0.006]}
    assert check_sheet(sheet(changes)).verdict
    assert refusal({plain(low): [small + 0.01, 0.004], plain(high): [large, 0.004]}).key == high


@pytest.mark.parametrize(("low", "high", "small", "large", "strict"), PAIRS)
def test_one_of_them_alone_contradicts_nothing(low, high, small, large, strict):
    if "hole_diameter" in low or "posts" in low:
        return
    assert check_sheet(sheet({plain(low): small + 0.01, plain(high): None})).verdict


def test_the_posts_next_to_each_other_are_those_that_were_measured():
    assert refusal({"movement.posts.minute.height": None, "movement.posts.seconds.height": 1.2}).key == (
        "movement.posts.seconds.height"
    )


@pytest.mark.parametrize(("seat", "refused"), [(14.35, False), (14.34, True), ([14.34, 0.02], False)])
def test_the_crown_does_not_sit_inside_the_bore(seat, refused):
    changes = {"case.crown_seat_radius": seat}
    if refused:
        error = refusal(changes)
        assert "case.bore_diameter" in str(error)
        assert "28.70 mm" in str(error)
    else:
        assert check_sheet(sheet(changes)).verdict


@pytest.mark.parametrize(("hole", "refused"), [(1.5, False), (1.49, True), (1.48, True)])
def test_the_hour_hands_hole_is_above_the_minute_hands(hole, refused):
    changes = {"hands.hour.hole_diameter": hole, "hands.minute.hole_diameter": 1.49}
    if refused:
        error = refusal(changes)
        assert (error.key, "hands.minute.hole_diameter" in str(error)) == ("hands.hour.hole_diameter", True)
    else:
        assert check_sheet(sheet(changes)).verdict


@pytest.mark.parametrize(("radius", "refused"), [(14.25, False), (14.26, True), ([14.26, 0.02], False)])
def test_feet_and_window_lie_on_the_dial(radius, refused):
    if refused:
        error = refusal({"dial.feet.0.radius": radius})
        assert (error.key, "dial.diameter" in str(error)) == ("dial.feet[0].radius", True)
        assert "dial.diameter" in str(refusal({"dial.window.radius": radius}))
    else:
        assert check_sheet(sheet({"dial.feet.0.radius": radius})).verdict


OWN_DIAL = {"dial.own_case": True, "case.dial_seat_diameter": 31.0, "case.bore_diameter": 29.6}
DOUBTS = [
    ({"hands.hour.length": 11.6}, {"hands.hour.length", "hands.minute.length"}, "hands"),
    ({"case.bore_diameter": 9.9, "case.crown_seat_radius": 17.0}, {"case.bore_diameter"}, "bore"),
    ({"case.bore_diameter": 60.1, "case.crown_seat_radius": 40.0}, {"case.bore_diameter"}, "bore"),
    (
        OWN_DIAL | {"case.dial_opening_diameter": 29.7},
        {"case.dial_opening_diameter", "case.bore_diameter"},
        "case",
    ),
    (
        {"movement.date.numeral_radial": 2.1},
        {"movement.date.numeral_radial", "movement.date.disc_inner_radius", "movement.date.disc_outer_radius"},
        "date disc",
    ),
    (
        {"dial.hour_marker_inner_radius": 13.9},
        {"dial.hour_marker_inner_radius", "case.dial_opening_diameter"},
        "markers",
    ),
    (
        {"dial.furniture.0.inner_radius": 13.9, "dial.furniture.0.outer_radius": 14.0},
        {"dial.furniture[0].inner_radius", "case.dial_opening_diameter"},
        "markers",
    ),
]


@pytest.mark.parametrize(("changes", "inputs", "subject"), DOUBTS)
def test_what_is_only_unlikely_is_a_doubt(changes, inputs, subject):
    (doubt,) = report(changes).doubts
    assert set(doubt.inputs) == inputs
    assert doubt.sentence.startswith(f"Look at the {subject} again: ")
    assert report(changes).as_dict()["doubts"] == [{"inputs": list(doubt.inputs), "sentence": doubt.sentence}]


@pytest.mark.parametrize(
    "changes",
    [
        {},
        {"hands.hour.length": 11.5},
        {"hands.hour.length": [11.6, 0.2]},
        {"case.bore_diameter": 10.0},
        OWN_DIAL | {"case.dial_opening_diameter": 29.6},
        {"case.bore_diameter": 60.0, "case.crown_seat_radius": 40.0},
        {"movement.date.numeral_radial": 2.0},
        {"dial.hour_marker_inner_radius": 13.8},
        {"case.dial_opening_diameter": {"at_least": 16.0}},
    ],
)
def test_what_may_well_be_is_no_doubt(changes):
    assert report(changes).doubts == []


def test_a_doubt_changes_no_verdict():
    """The bore at 60 and a hair above it: one is doubted, the verdicts are the same."""
    base = {"case.crown_seat_radius": 40.0}
    sure, doubted = (report(base | {"case.bore_diameter": bore}) for bore in (60.0, 60.01))
    assert (sure.doubts == [], len(doubted.doubts)) == (True, 1)
    assert [item.verdict for item in sure.checks] == [item.verdict for item in doubted.checks]


def rectangle(width, height, corner=1.0):
    return {"shape": "rectangle", "width": width, "height": height, "corner": corner}


@pytest.mark.parametrize(
    ("part", "key", "other"),
    [
        (
            {"case": {"seat_outline": rectangle(16, 22), "opening_outline": rectangle(17, 20)}},
            "case.seat_outline.width",
            "case.opening_outline.width",
        ),
        (
            {"case": {"seat_outline": rectangle(16, 22, 4), "opening_outline": rectangle(15.8, 21.8, 0)}},
            "case.seat_outline.shape",
            "case.opening_outline",
        ),
        (
            {"case": {"seat_outline": rectangle(16, 22), "dial_opening_diameter": 18}},
            "case.seat_outline.shape",
            "case.dial_opening_diameter",
        ),
        (
            {"case": {"dial_seat_diameter": 20, "opening_outline": rectangle(16, 20)}},
            "case.dial_seat_diameter",
            "case.opening_outline",
        ),
        (
            {"movement": {"outline": rectangle(10.5, 12.6), "fit_outline": rectangle(10.4, [16, 0.05])}},
            "movement.outline.height",
            "movement.fit_outline.height",
        ),
    ],
)
def test_an_outline_that_stands_out_of_the_one_round_it_is_refused_with_both(part, key, other):
    with pytest.raises(SheetError) as caught:
        check_sheet(part)
    assert (caught.value.key, caught.value.other) == (key, other)


@pytest.mark.parametrize(
    "part",
    [
        {"case": {"seat_outline": rectangle(16, 22), "opening_outline": rectangle(16, 20)}},
        {"case": {"seat_outline": rectangle([16, 0.05], 22), "opening_outline": rectangle(16.04, 20)}},
        {"case": {"seat_outline": rectangle(16, 22), "dial_opening_diameter": 15.9}},
        {"movement": {"outline": rectangle(10.5, 12.6), "fit_outline": rectangle(10.4, 12.5)}},
    ],
)
def test_an_outline_inside_the_one_round_it_is_accepted(part):
    check_sheet(part)


@pytest.mark.parametrize(("radius", "refused"), [([14.85, 0.1], False), (15.2, True)])
def test_a_subdial_lies_on_the_dial(radius, refused):
    dial = {"diameter": [29.8, 0.05], "subdials": [{"name": "small seconds", "angle": 180, "radius": radius}]}
    if refused:
        with pytest.raises(SheetError, match="the subdial's middle lies outside the dial") as caught:
            check_sheet({"dial": dial})
        assert (caught.value.key, caught.value.other) == ("dial.subdials[0].radius", "dial.diameter")
    else:
        check_sheet({"dial": dial})
