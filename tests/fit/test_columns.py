"""The check of many pairings at once against the single check, row by row."""

import random
from collections import Counter
from copy import deepcopy
from dataclasses import replace

import numpy as np
import pytest

from parts.fit import SheetError
from parts.fit.check import check, check_columns, overall
from parts.fit.columns import Column
from parts.fit.sheet import read_part, read_sheet
from tests.fit.sheets import ABSENT, sheet

ROWS = 30
MANY = 120
"""Rows of each trial: in every run, and of the long ones."""
PLAIN = {"movement.date": "none", "dial.window": "none"}
DOMED = {"case.crystal_gap_edge": 1.9, "case.crystal_edge_radius": 11.0, "stem.thread": ABSENT}
RULES = {"rules": {"stem_long_ok": 0.3, "grip_min": 0.25}}
BUSY = {"dial.window.radial": 1.25, "dial.window.tangential": 1.6, "dial.day_window": True}
NO_DIAL = {"dial": {}, "stem": {}}


def shaken(data, chance):
    """The numbers moved, some made uncertain, some lost."""
    if isinstance(data, dict):
        return {key: shaken(value, chance) for key, value in data.items()}
    if isinstance(data, list):
        return [shaken(item, chance) for item in data]
    if isinstance(data, bool | str | None):
        return data
    if chance.random() < 0.03:
        return None
    moved = data + chance.choice([0.0, 0.0, chance.gauss(0, 0.02), chance.gauss(0, 0.2), 0.1 * chance.randint(-6, 6)])
    if data > 40:
        moved = data + chance.choice([0.0, chance.gauss(0, 1), chance.gauss(0, 30)])
    return [round(moved, 3), chance.choice([0.0, 0.0, 0.01, 0.05, 0.2])]


def columned(rows):
    """Many parts of one structure as one, whose numbers are columns."""
    first = rows[0]
    if all(row is None for row in rows):
        return None
    if isinstance(first, dict):
        return {key: columned([row[key] for row in rows]) for key in first}
    if isinstance(first, list) and isinstance(first[0], dict):
        return [columned(list(items)) for items in zip(*rows, strict=True)]
    if all(row is None or isinstance(row, list) for row in rows):
        pairs = [row or (np.nan, 0.0) for row in rows]
        return [np.array([value for value, _ in pairs], dtype=float), np.array([width for _, width in pairs])]
    assert all(row == first for row in rows)
    return first


def trials(part, base, seed, rows):
    """Random rows of one part with the sheet around them; those that no sheet allows are left out."""
    chance, kept = random.Random(seed), []
    while len(kept) < rows:
        data = shaken(base[part], chance)
        try:
            whole, rules = read_sheet(deepcopy(base) | {part: data})
        except SheetError:
            continue
        kept.append((data, whole, rules))
    return kept


class Rows:
    """What a check of many pairings says, spread over all its rows once."""

    def __init__(self, item, rows):
        def spread(values):
            return np.broadcast_to(values, rows)

        remedies = item.remedies if isinstance(item, Column) else dict.fromkeys(item.remedies, True)
        self.key, self.rank, self.must = item.key, spread(item.rank), spread(item.must)
        self.remedies = [(remedy.kind, spread(where)) for remedy, where in remedies.items()]
        if item.value.known:
            self.value, self.half_width = spread(item.value.value), spread(item.value.half_width)

    def kinds(self, row):
        return Counter(kind for kind, rows in self.remedies if rows[row])


each_many_times = pytest.mark.parametrize(
    ("rows", "seen"), [(ROWS, 20), pytest.param(MANY, 25, marks=pytest.mark.long)], ids=["few", "many"]
)


@each_many_times
@pytest.mark.parametrize("placement", ["auto", "front", "rear"])
@pytest.mark.parametrize("part", ["movement", "hands", "case", "dial", "crown", "stem"])
@pytest.mark.parametrize(
    "changes", [{}, PLAIN, DOMED, RULES, BUSY, NO_DIAL], ids=["base", "plain", "domed", "rules", "busy", "nodial"]
)
def test_every_row_agrees_with_the_single_check(part, changes, placement, rows, seen):
    changes = changes | {"spacer.placement": placement}
    if part in changes:
        pytest.skip("this part is not there")
    assert len(agreed(part, sheet(changes), f"{part} {placement}", rows)) >= seen


def agreed(part, base, seed, rows=ROWS):
    """What was seen, as (key, verdict), of rows that agree with their single checks."""
    tried = trials(part, base, seed, rows)
    column = replace(tried[0][1], **{part: read_part(part, columned([data for data, _, _ in tried]))})
    with np.errstate(all="ignore"):
        checked = check_columns(column, tried[0][2])
        worst, items = np.broadcast_to(overall(checked), rows), [Rows(item, rows) for item in checked]
    seen = Counter()
    for row, (data, whole, rules) in enumerate(tried):
        report = check(whole, rules)
        single = {item.key: item for item in report.checks}
        assert worst[row] == report.verdict.rank, data
        for item in items:
            if item.key not in single:
                assert (item.rank[row], item.kinds(row)) == (0, Counter()), (item.key, data)
                continue
            one = single.pop(item.key)
            assert (item.key, item.rank[row]) == (item.key, one.rank), data
            assert (item.key, item.kinds(row)) == (item.key, Counter(remedy.kind for remedy in one.remedies)), data
            assert bool(item.must[row]) is bool(one.must), (item.key, data)
            if one.value.known and not one.missing:
                assert abs(item.value[row] - one.value.value) <= 1e-9, (item.key, data)
                if not item.key.startswith(("gap-", "sub-gap")):  # what a gap hangs on is told of one pairing only
                    assert abs(item.half_width[row] - one.value.half_width) <= 1e-9, (item.key, data)
            seen[item.key, one.verdict] += 1
        assert not single
    return seen


@pytest.mark.parametrize("end", ["length", "tail"])
def test_a_hand_without_its_length_under_a_dome_leaves_the_crystal_open_in_every_row(end):
    known, rules = read_sheet(sheet({**DOMED, f"hands.minute.{end}": ABSENT}))
    heights = {"posts": {"hour": {"height": [np.array([1.9, 2.0]), np.zeros(2)], "diameter": 1.5}}}
    movement = replace(known.movement, posts=read_part("movement", heights).posts)
    crystal = next(
        item for item in check_columns(replace(known, movement=movement), rules) if item.key == "gap-crystal"
    )
    assert f"hands.minute.{end}" in crystal.missing
    assert crystal.verdict == "unclear"


def test_feet_of_which_only_one_is_a_column_are_each_matched():
    """The second foot's hole is its own in every row, wherever the first one stands."""
    angles = [45.0, 60.0, 46.0, 120.0]
    whole, rules = read_sheet(sheet())
    data = sheet()["dial"]
    data["feet"][0]["angle"] = [np.array(angles), np.zeros(len(angles))]
    with np.errstate(all="ignore"):
        columns = {item.key: item for item in check_columns(replace(whole, dial=read_part("dial", data)), rules)}
    for row, angle in enumerate(angles):
        single = {item.key: item for item in check(*read_sheet(sheet({"dial.feet.0.angle": angle}))).checks}[
            "dial-feet"
        ]
        assert columns["dial-feet"].value.value[row] == single.value.value, angle
    assert set(columns["dial-feet"].value.value) == {1.0, 2.0}


RICH = {
    "case": {"seat_wall": 0.3, "crystal_gap_edge": 2.35, "crystal_edge_radius": 11.7},
    "dial": {"centre_thickness": 0.45, "pad_thickness": 0.08, "fixing": "pads"},
    "stem": {"diameter": 1.1, "thread_length": 2.4, "thread_pitch": 0.225},
    "crown": {"thread_pitch": 0.225},
    "movement": {"stem_thread_pitch": 0.225},
}
EACH_POST = {"made_for": 1.0, "end_play": 0.02}
EACH_HAND = {"made_for": 1.0, "cap_thickness": 0.03, "blade_step": 0.05, "boss_diameter": 2.4}


def rich(hands):
    """The base sheet with every further number, and what trying a hand said."""
    data = sheet()
    for part, more in RICH.items():
        data[part] |= more
    for row, more in ((data["movement"]["posts"], EACH_POST), (data["hands"], EACH_HAND)):
        row.update({name: own | more for name, own in row.items()})
    for name, tried in hands.items():
        data["hands"][name]["tried"] = tried
    return data


@each_many_times
@pytest.mark.parametrize("part", ["movement", "hands", "case", "dial", "crown", "stem"])
@pytest.mark.parametrize("hands", [{}, {"seconds": "loose"}, {"hour": "grips", "minute": "tight"}])
def test_every_row_agrees_with_the_further_numbers_too(part, hands, rows, seen):
    assert len(agreed(part, rich(hands), f"{part} {hands}", rows)) >= seen
