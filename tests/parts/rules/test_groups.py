"""Bench rules in their groups, and the sketches where they are seen."""

import re

import pytest

from parts.fit.rules import RULES
from parts.rules.groups import GROUPS


def test_every_rule_stands_in_one_group():
    names = [name for group in GROUPS for name in group.names]
    assert sorted(names) == sorted(RULES)


@pytest.mark.parametrize("group", GROUPS, ids=lambda group: group.key)
def test_every_rule_of_a_group_is_seen_once_on_its_sketch(group):
    if not group.sketch:
        assert len(group.names) == 1
        return
    marked = [name for mark in group.sketch.marks for name in mark.rules]
    assert sorted(marked) == sorted(group.names)
    letters = [letter for mark in group.marks for letter in mark["letters"]]
    assert sorted(letters) == [group.letter(name) for name in group.names]


@pytest.mark.parametrize("group", [group for group in GROUPS if group.sketch], ids=lambda group: group.key)
def test_letters_stay_on_the_sketch_and_clear_of_each_other(group):
    plates = [(mark["left"], mark["y"] - 9, mark["left"] + mark["w"], mark["y"] + 9) for mark in group.marks]
    assert all(left >= 0 and top >= 0 and right <= 320 and low <= 180 for left, top, right, low in plates)
    for i, one in enumerate(plates):
        for other in plates[i + 1 :]:
            apart = one[2] <= other[0] or other[2] <= one[0] or one[3] <= other[1] or other[3] <= one[1]
            assert apart, (one, other)


@pytest.mark.parametrize("group", [group for group in GROUPS if group.sketch], ids=lambda group: group.key)
def test_a_sketch_is_drawn_in_its_frame(group):
    for _, path in group.sketch.parts:
        start = re.match(r"M(-?[\d.]+) (-?[\d.]+)", path)
        assert 0 <= float(start[1]) <= 320
        assert 0 <= float(start[2]) <= 180
