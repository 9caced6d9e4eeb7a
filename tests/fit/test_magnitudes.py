"""No number that the door lets in breaks the arithmetic, however small or large; what is smaller stays outside."""

import re
import warnings

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from parts.fit import SheetError, check_sheet
from parts.fit.records import describe
from parts.fit.rules import RULES
from tests.fit.sheets import numbers, sheet

FINEST = 1e-4
LEAVES = sorted(numbers())


def extremes(path):
    """The least and the largest numbers that the door lets in there, alone and with the coarsest plus-minus."""
    spec = describe(re.sub(r"\.(\d+)\.", r"[\1].", path)).input
    sizes = {spec.least, FINEST, 2 * FINEST, spec.most, spec.most / 2} - ({spec.least} if spec.above else set())
    for size in sizes:
        yield from (size, [size, FINEST], [size, spec.most])


def answered(data):
    """The report, or the refusal in words; any other end of the check fails the test."""
    with warnings.catch_warnings():
        warnings.simplefilter("error")
        try:
            return check_sheet(data)
        except SheetError as refusal:
            return str(refusal)


@pytest.mark.parametrize("path", LEAVES)
def test_every_leaf_at_its_ends_has_a_report_or_a_refusal_in_words(path):
    assert all(answered(sheet({path: value})) for value in extremes(path))


@settings(max_examples=400, deadline=None)
@given(st.data())
def test_so_have_any_three_of_them_together(data):
    paths = data.draw(st.lists(st.sampled_from(LEAVES), min_size=3, max_size=3, unique=True))
    assert answered(sheet({path: data.draw(st.sampled_from([*extremes(path)])) for path in paths}))


@pytest.mark.parametrize("path", LEAVES)
@pytest.mark.parametrize("value", [1e-200, 9.9e-5, 5e-324, [2.0, 1e-200], [2.0, 9.9e-5]])
def test_what_no_instrument_tells_is_refused_with_its_key(path, value):
    with pytest.raises(SheetError, match="no instrument tells so little; it must be 0, or at least 0.0001") as caught:
        check_sheet(sheet({path: value}))
    assert caught.value.key.replace("[", ".").replace("]", "") == path


def test_the_finest_number_itself_is_let_in():
    assert answered(sheet({"movement.current": FINEST})).verdict


@pytest.mark.parametrize("name", sorted(RULES))
def test_a_bench_rule_has_the_same_floor(name):
    with pytest.raises(SheetError, match="no instrument tells so little"):
        check_sheet(sheet({}) | {"rules": {name: 1e-200}})
