"""Sheets of other constructions with anything anywhere: a report or a refusal in words, and nothing else."""

import json
import warnings
from copy import deepcopy

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from parts.fit import SheetError, check_sheet
from parts.fit.answer.text import report_text
from parts.fit.drawings.dial import dial_svg
from parts.fit.drawings.section import section_svg
from tests.fit.constructions.sheets import ALL
from tests.fit.sheets import sheet
from tests.fit.test_properties import ANYTHING, every_path

NAMES = sorted(ALL)
BASES = {name: json.loads(json.dumps(sheet(deepcopy(ALL[name])))) for name in NAMES}
PATHS = {name: sorted(set(every_path(BASES[name])) - set(every_path())) for name in NAMES}
EXTREMES = [0, 1e-4, 2e-4, 0.01, 50, 99.9, 100, [1e-4, 1e-4], [5, 5], [50, 99], [1, 100], -1, -1e-3, 360, None]


def changed(base, path, value):
    data = deepcopy(base)
    *way, last = path.split(".")
    node = data
    for step in way:
        node = node[int(step)] if isinstance(node, list) else node[step]
    node[int(last) if isinstance(node, list) else last] = value
    return data


def answered(data):
    with warnings.catch_warnings():
        warnings.simplefilter("error")
        try:
            report = check_sheet(data)
        except SheetError:
            return
        json.dumps(report.as_dict(), allow_nan=False)
        assert report_text(report).endswith("\n")
        for svg in (section_svg(report), dial_svg(report)):
            assert "nan" not in svg


@settings(max_examples=400, deadline=None)
@given(st.data())
def test_any_value_at_any_path(data):
    name = data.draw(st.sampled_from(NAMES))
    answered(changed(BASES[name], data.draw(st.sampled_from(PATHS[name] or ["case"])), data.draw(ANYTHING)))


@pytest.mark.parametrize("name", NAMES)
def test_every_number_at_its_ends(name):
    for path in PATHS[name]:
        for value in EXTREMES:
            answered(changed(BASES[name], path, value))


@settings(max_examples=300, deadline=None)
@given(st.data())
def test_any_three_of_them_together(data):
    name = data.draw(st.sampled_from(NAMES))
    base = BASES[name]
    for path in data.draw(st.lists(st.sampled_from(PATHS[name]), min_size=1, max_size=3, unique=True)):
        try:
            base = changed(base, path, data.draw(st.sampled_from(EXTREMES)))
        except (KeyError, TypeError, IndexError, ValueError):
            continue
    answered(base)
