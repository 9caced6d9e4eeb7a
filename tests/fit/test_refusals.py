"""Impossible sheets are refused with the key, the value and the limit; every accepted one has a report."""

from math import inf, nan

import pytest

from parts.fit import SheetError, check_sheet
from parts.fit.sheet import parse_sheet
from tests.fit.sheets import numbers, sheet

KEYS = ["case", "dial", "movement", "hands", "stem", "crown", "spacer", "rules"]


def refusal(data):
    with pytest.raises(SheetError) as caught:
        check_sheet(data)
    return caught.value


NO_NUMBERS = (nan, inf, -inf, True, "27.4", {}, 10**400, -1000.0)
NO_PAIRS = ([], [1.0], [1.0, 0.1, 0.1], [None, 0.1], [1.0, None], [1.0, -0.1], [1.0, nan], [1.0, True], [[1.0], 0.1])


def plain(key):
    """dial.feet[0].angle as dial.feet.0.angle."""
    return key.replace("[", ".").replace("]", "")


@pytest.mark.parametrize("path", list(numbers()))
def test_what_is_no_number_is_refused_wherever_it_stands(path):
    for value in NO_NUMBERS:
        error = refusal(sheet({path: value}))
        assert plain(error.key) == path
        assert str(error).startswith(f"{error.key} is {value!r}: ")
        assert "; it must be " in str(error)


@pytest.mark.parametrize("path", list(numbers()))
def test_a_list_that_is_no_value_with_plus_minus_is_refused(path):
    for value in NO_PAIRS:
        assert plain(refusal(sheet({path: value})).key) == path


@pytest.mark.parametrize(
    ("path", "value", "said"),
    [
        (
            "case.bore_diameter",
            -26.0,
            "case.bore_diameter is -26.0: out of range for bore diameter; it must be above 0, at most 100 mm.",
        ),
        ("case.bore_diameter", 0, "it must be above 0, at most 100 mm."),
        ("case.bore_diameter", 100.1, "it must be above 0, at most 100 mm."),
        ("case.back_depth", -0.1, "it must be between 0 and 100 mm."),
        ("case.stem_angle", 361, "it must be between -360 and 360 degrees."),
        ("movement.stem_thread", 5.1, "it must be above 0, at most 5 mm."),
        ("movement.current", 0, "it must be above 0, at most 10000 µA."),
        ("hands.hour.mass", -1, "it must be between 0 and 10000 mg."),
        ("case.bore_diameter", [26.0, 101.0], "it must be between 0 and 100."),
    ],
)
def test_a_number_outside_its_limits_is_told_them(path, value, said):
    assert said in str(refusal(sheet({path: value})))


@pytest.mark.parametrize(
    ("path", "value"),
    [
        ("movement.stem_reference_radius", 100.0),
        ("movement.stem_axis_depth", 0),
        ("case.stem_angle", 360),
        ("case.stem_angle", -360),
        ("movement.stem_thread", 5.0),
        ("hands.hour.mass", 0),
    ],
)
def test_a_number_on_its_limit_is_accepted(path, value):
    assert check_sheet(sheet({path: value})).verdict


@pytest.mark.parametrize(
    "path",
    [
        "bezel",
        "case.bore",
        "dial.feet.0.length",
        "dial.window.height",
        "dial.furniture.0.colour",
        "movement.post",
        "movement.posts.sweep",
        "movement.posts.hour.length",
        "movement.foot_holes.1.depth",
        "movement.date.steps",
        "movement.unbalance_limits.gmt",
        "hands.gmt",
        "hands.minute.colour",
        "stem.colour",
        "crown.colour",
        "spacer.thickness",
        "rules.gap",
    ],
)
def test_an_unknown_key_is_named_at_each_level(path):
    error = refusal(sheet({path: 1.0}))
    assert plain(error.key) == path


@pytest.mark.parametrize("part", KEYS)
@pytest.mark.parametrize("value", [[], 3, "x", True])
def test_a_part_that_is_no_object_is_refused(part, value):
    assert refusal(sheet({part: value})).key == part


@pytest.mark.parametrize("data", [None, [], "sheet", 3, True])
def test_a_sheet_that_is_no_object(data):
    if data is None:
        assert check_sheet(data).checks == []
    else:
        assert refusal(data).key == "sheet"


@pytest.mark.parametrize("path", ["dial.feet", "movement.foot_holes", "dial.furniture"])
@pytest.mark.parametrize("value", [{}, 3, "x", [3], [None], [[]]])
def test_rows_must_be_a_list_of_objects(path, value):
    assert refusal(sheet({path: value})).key.startswith(path)


@pytest.mark.parametrize(
    ("changes", "key", "words"),
    [
        ({"case.loading": "side"}, "case.loading", '"back" or "front"'),
        ({"crown.style": "pull"}, "crown.style", '"push" or "screw"'),
        ({"spacer.placement": "top"}, "spacer.placement", '"auto" or "front" or "rear"'),
        ({"dial.day_window": 1}, "dial.day_window", "true or false"),
        ({"movement.day": "yes"}, "movement.day", "true or false"),
        ({"dial.furniture.0.name": 3}, "dial.furniture[0].name", "a text"),
        ({"dial.furniture.0.name": "two\nlines"}, "dial.furniture[0].name", "on one line"),
        ({"dial.furniture.0.name": "\ud800"}, "dial.furniture[0].name", "cannot be printed"),
        ({"hands.hour.hub_height": 0.14}, "hands.hour.hub_height", "at least the hour hand blade thickness, 0.15 mm"),
        ({"hands.seconds.thickness": 0.5}, "hands.seconds.hub_height", "thinner than the blade"),
        ({"dial.window.radius": 13.5}, "dial.window.radius", "past the dial's edge"),
        ({"movement.date.disc_outer_radius": 8.9}, "movement.date.disc_outer_radius", "wrong way round"),
        ({"dial.furniture.0.outer_radius": 8.9}, "dial.furniture[0].outer_radius", "wrong way round"),
    ],
)
def test_what_no_part_can_be(changes, key, words):
    error = refusal(sheet(changes))
    assert error.key == key
    assert words in str(error)


@pytest.mark.parametrize(
    "changes",
    [
        {"hands.hour.hub_height": 0.15},
        {"hands.hour.hub_height": None, "hands.hour.thickness": 3.0},
        {"dial.window.radius": 13.5, "dial.diameter": None},
        {"movement.date.disc_outer_radius": 9.0},
        {"dial.furniture.0.outer_radius": 9.0},
    ],
)
def test_what_a_part_can_just_be(changes):
    assert check_sheet(sheet(changes)).verdict


def test_the_windows_corner_is_what_must_lie_within_the_dial():
    """Corner of a window 1.6 x 8.0 at 12.75: hypot(13.55, 4.0) = 14.128; of a dial 28.25 wide the edge is 14.125."""
    changes = {"dial.window.tangential": 8.0, "dial.window.radius": 12.75}
    assert check_sheet(sheet(changes | {"dial.diameter": 28.26})).verdict
    assert refusal(sheet(changes | {"dial.diameter": 28.25})).key == "dial.window.radius"


@pytest.mark.parametrize(
    ("rules", "key"),
    [
        ({"gap_min": -0.1}, "rules.gap_min"),
        ({"gap_min": nan}, "rules.gap_min"),
        ({"gap_min": "0.2"}, "rules.gap_min"),
        ({"gap_min": None}, "rules.gap_min"),
        ({"gap_min": [0.2, 0.1]}, "rules.gap_min"),
        ({"gap_min": True}, "rules.gap_min"),
        ({"no_such_rule": 1}, "rules.no_such_rule"),
        ({"gap_min": 0.04}, "rules.gap_min"),
        ({"gap_touch": 0.2}, "rules.gap_touch"),
        ({"tip_touch": 0.3}, "rules.tip_touch"),
        ({"dial_play_min": 0.4}, "rules.dial_play_min"),
        ({"shim_max": 0.9}, "rules.shim_max"),
        ({"post_press_max": 0.4}, "rules.post_press_max"),
        ({"date_offset_fits": 1.5}, "rules.date_offset_fits"),
        ({"date_cut_max": 0.01}, "rules.date_cut_max"),
        ({"date_sliver_max": 0.01}, "rules.date_sliver_max"),
        ({"rough_cut": 0.05}, "rules.rough_cut"),
    ],
)
def test_a_bad_bench_rule_is_named(rules, key):
    assert refusal(sheet({"rules": rules})).key == key


@pytest.mark.parametrize("rules", [{"gap_touch": 0.15}, {"dial_play_min": 0.3}, {"rough_cut": 0.1}])
def test_two_limits_may_be_the_same(rules):
    assert check_sheet(sheet({"rules": rules})).verdict == "work"


@pytest.mark.parametrize("text", ["", "nonsense", "{", "[1,]", "{'case': {}}", "[" * 100_000])
def test_text_that_is_no_json(text):
    with pytest.raises(SheetError, match="not JSON|nested too deeply"):
        parse_sheet(text)


def test_a_key_given_twice_is_refused():
    with pytest.raises(SheetError, match="bore_diameter is 27: key given twice"):
        parse_sheet('{"case": {"loading": "back", "bore_diameter": 26, "bore_diameter": 27}}')


def test_a_refusal_stays_on_one_line():
    assert "\n" not in str(refusal({"a\nb": 1}))
    assert "\n" not in str(refusal({"case": {"bore_diameter": "a\nb"}}))
