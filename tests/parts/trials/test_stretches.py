"""For which values of an unmeasured dimension parts go together: held against the single check inside and outside."""

import random
import re
from dataclasses import replace
from math import inf

import numpy as np
import pytest

from parts.fit import SheetError
from parts.fit.bands import Verdict
from parts.fit.check import PARTS, check
from parts.fit.records import describe
from parts.fit.sheet import read_part, read_sheet
from parts.trials.stretches import in_words, stretches
from tests.fit.sheets import numbers, sheet

PATHS = [path for path in numbers() if path not in ("stem.thread",)]
A_LITTLE = 1e-6
FINEST = 1e-4
"""The least number above 0 that a sheet takes."""


def in_sheet(path):
    return re.sub(r"\.(\d+)", r"[\1]", path)


def goes(changes):
    return check(*read_sheet(sheet(changes))).verdict.rank <= Verdict.WORK.rank


def shaken(seed):
    chance = random.Random(seed)
    changes = {path: chance.gauss(0, 0.05) for path in chance.sample(PATHS, 12)}
    return {path: [round(at(sheet(), path) + move, 3), chance.choice([0.0, 0.01])] for path, move in changes.items()}


def at(node, path):
    for step in path.split("."):
        node = node[int(step)] if isinstance(node, list) else node[step]
    return node


@pytest.mark.parametrize("seeds", [2, pytest.param(4, marks=pytest.mark.long)])
@pytest.mark.parametrize("path", PATHS)
def test_the_single_check_agrees_just_inside_and_just_outside(path, seeds):
    tried = 0
    for seed in range(seeds):
        changes = shaken(f"{path} {seed}") | {path: None}
        try:
            found = stretches(*read_sheet(sheet(changes)), PARTS, in_sheet(path))[0]
        except SheetError:
            continue
        spec = describe(in_sheet(path)).input
        least, most = (0.0, 360.0) if spec.unit == "deg" else (spec.least + FINEST, spec.most)
        for low, high in found:
            inside = [max(low, least) + A_LITTLE, min(high, most) - A_LITTLE, (max(low, least) + min(high, most)) / 2]
            outside = [low - A_LITTLE, high + A_LITTLE]
            for value, expected in [(v, True) for v in inside] + [(v, False) for v in outside if least < v < most]:
                try:
                    assert goes(changes | {path: value}) is expected, (value, found)
                except SheetError:
                    continue
                tried += 1
        if not found:
            for value in np.linspace(least, min(most, 40.0), 60):
                try:
                    assert goes(changes | {path: float(value)}) is False, value
                except SheetError:
                    continue
                tried += 1
    assert tried


@pytest.mark.parametrize(
    ("path", "words"),
    [
        ("case.stem_axis_depth", "between 1.90 mm and 2.18 mm"),
        ("case.bore_diameter", "at least 28.65 mm"),
        ("movement.overall_diameter", "at most 28.70 mm"),
        ("movement.posts.hour.diameter", "at most 1.90 mm"),
        ("movement.unbalance_limits.hour", "at least 0.24 µN·m"),
        ("hands.hour.mass", "at most 50.98 mg"),
        ("stem.length", "any"),
        ("dial.window.radius", "between 9.62 mm and 10.38 mm"),
    ],
)
def test_the_words_round_inwards(path, words):
    assert in_words(path, stretches(*read_sheet(sheet({path: None})), PARTS, path)[0]) == words


def test_no_value_is_said_by_no_words():
    changes = {"case.stem_axis_depth": None, "case.back_depth": 3.0}
    found = stretches(*read_sheet(sheet(changes)), PARTS, "case.stem_axis_depth")
    assert found == [[]]
    assert in_words("case.stem_axis_depth", []) == ""
    assert in_words("case.stem_axis_depth", [(2.001, 2.009)]) == ""
    assert in_words("case.stem_axis_depth", [(2.001, 2.011)]) == "2.01 mm"


def test_another_unmeasured_dimension_leaves_its_own_checks_out():
    changes = {"case.stem_axis_depth": None, "case.crystal_gap_centre": None}
    found = stretches(*read_sheet(sheet(changes)), PARTS, "case.stem_axis_depth")[0]
    assert found == [pytest.approx((1.9, 2.18), abs=1e-6)]


def test_many_rows_at_once_answer_as_each_alone():
    heights = [3.0, 3.2, 3.5, 3.69, 3.9]
    whole, rules = read_sheet(sheet({"case.stem_axis_depth": None}))
    data = sheet()["movement"] | {"back_height": [np.array(heights), np.zeros(5)]}
    column = replace(whole, movement=read_part("movement", data))
    together = stretches(column, rules, PARTS, "case.stem_axis_depth", rows=5)
    for height, found in zip(heights, together, strict=True):
        changes = {"case.stem_axis_depth": None, "movement.back_height": height}
        alone = stretches(*read_sheet(sheet(changes)), PARTS, "case.stem_axis_depth")[0]
        assert len(found) == len(alone)
        for ends, wanted in zip(found, alone, strict=True):
            assert ends == pytest.approx(wanted, abs=1e-9)
    assert [len(found) for found in together] == [1, 1, 1, 1, 0]


def test_a_dimension_that_decides_nothing_goes_at_any_value():
    assert stretches(*read_sheet(sheet({"stem.length": None})), PARTS, "stem.length") == [[(-inf, inf)]]
