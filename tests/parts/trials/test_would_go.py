"""What would make a pairing go: each value that is given is tried on the sheet itself, just before it and at it."""

import random
import re

import pytest

from parts.fit import SheetError, check_sheet
from parts.trials.would_go import with_ways
from tests.fit.sheets import numbers, report, sheet

JUST = 2e-3
ALONE = [
    {"case.crystal_gap_centre": 2.1},
    {"case.crystal_gap_centre": 1.4},
    {"case.back_depth": 3.5},
    {"case.bore_diameter": 28.4},
    {"movement.posts.hour.height": 0.5, "hands.hour.hub_height": 0.35},
    {"hands.minute.hub_height": 0.8, "movement.posts.seconds.height": 2.0},
    {"hands.seconds.length": 13.75},
    {"hands.hour.hole_diameter": 1.54, "hands.hour.hub_diameter": 1.7},
    {"case.stem_axis_depth": 1.8},
    {"dial.diameter": 29.2},
    {"hands.hour.mass": 90.0},
    {"movement.date.numeral_radius": 11.2},
    {"dial.centre_hole_diameter": 0.4},
    {"case.crystal_gap_centre": 2.6, "case.crystal_gap_edge": 1.6, "case.crystal_edge_radius": 12.0},
]


def in_sheet(path):
    return re.sub(r"\[(\d+)\]", r".\1", path)


def verdict(changes):
    try:
        return check_sheet(sheet(changes)).verdict
    except SheetError:
        return "refused"


def ways_of(changes):
    return with_ways(report(changes)).would_go


def assert_turns(changes, way):
    """The pairing goes with the changes of this way, and without any one of them it does not."""
    made = {in_sheet(change.input): change.value for change in way.changes}
    assert verdict(changes | made) != "no", way
    for change in way.changes:
        short = -JUST if change.at_least else JUST
        assert verdict(changes | made | {in_sheet(change.input): change.value + short}) in ("no", "refused"), way


@pytest.mark.parametrize("changes", ALONE)
def test_every_value_turns_the_answer_and_the_one_just_before_does_not(changes):
    assert report(changes).verdict == "no"
    for way in ways_of(changes):
        assert len(way.changes) == 1
        assert_turns(changes, way)


@pytest.mark.parametrize("seed", range(12))
def test_so_it_is_with_pairings_that_nobody_picked(seed):
    chance = random.Random(seed)
    paths = [path for path in numbers() if not path.startswith(("case.bore", "rules"))]
    while True:
        at = {path: chance.gauss(0, 0.3) for path in chance.sample(paths, 6)}
        changes = {path: round(value_at(path) + by, 3) for path, by in at.items()}
        if verdict(changes) == "no":
            break
    for way in ways_of(changes):
        assert_turns(changes, way)


def value_at(path):
    node = sheet()
    for step in path.split("."):
        node = node[int(step)] if isinstance(node, list) else node[step]
    return node


def test_a_low_crystal_goes_with_a_higher_one_or_lower_posts():
    """The seconds hand stands 2.20 above the dial and needs 0.05: a crystal gap of 2.25, or a post of 2.45."""
    changes = {"case.crystal_gap_centre": 2.1}
    told = {way.changes[0].input: way.changes[0] for way in ways_of(changes)}
    assert (told["case.crystal_gap_centre"].value, told["case.crystal_gap_centre"].at_least) == (2.25, True)
    assert (told["movement.posts.seconds.height"].value, told["movement.posts.seconds.height"].at_least) == (
        2.45,
        False,
    )
    assert all(way.check == "gap-crystal" for way in ways_of(changes))


def test_the_words_name_the_number_and_its_least():
    way = ways_of({"case.crystal_gap_centre": 2.1})[0]
    assert way.words.startswith("Fits with a ")
    assert way.as_dict().keys() == {"check", "input", "at_least" if way.changes[0].at_least else "at_most"}


def test_two_that_say_no_go_by_a_change_for_each_together():
    changes = {"case.crystal_gap_centre": 2.1, "hands.hour.hole_diameter": 1.54, "hands.hour.hub_diameter": 1.7}
    (way,) = ways_of(changes)
    assert len(way.changes) == 2
    assert way.as_dict().keys() == {"check", "changes"}
    assert " and a " in way.words
    assert_turns(changes, way)


@pytest.mark.parametrize("changes", [{}, {"case.back_depth": [3.9, 0.2]}, {"case.back_depth": None}])
def test_what_goes_or_is_open_needs_no_way(changes):
    assert ways_of(changes) == []


def test_where_nothing_that_can_be_changed_would_do_there_is_no_way():
    """Only the case says no: its bore and its stem hole are no parts to buy."""
    ways = ways_of({"case.bore_diameter": 25.0, "case.crown_seat_radius": 17.0})
    assert all(not change.input.startswith("case.bore") for way in ways for change in way.changes)
