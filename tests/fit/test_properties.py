"""What holds for every sheet: found by trying thousands, not by picking."""

import json
from math import isfinite

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from parts.dimensions.text import LIGNE, format_dimension, read_dimension
from parts.fit import SheetError, check_sheet
from parts.fit.answer.text import report_text
from parts.fit.drawings import bar_svg, dial_svg, section_svg, stack_svg, window_svg
from tests.fit.sheets import SHEET, numbers, sheet

PATHS = list(numbers())
QUICK = settings(max_examples=60, deadline=None, suppress_health_check=[HealthCheck.too_slow])

WORSE_OR_EQUAL = {
    "fits": {"fits", "work", "unclear"},
    "work": {"work", "unclear"},
    "unclear": {"unclear"},
    "no": {"no", "unclear"},
}
"""What more uncertainty may make of a verdict."""


def nominal(path):
    node = SHEET
    for step in path.split("."):
        node = node[int(step)] if isinstance(node, list) else node[step]
    return node


def nudged(moves):
    """The base sheet with some numbers moved a little, as {path: value}."""
    return {path: round(nominal(path) + by, 3) for path, by in moves.items()}


moves = st.dictionaries(st.sampled_from(PATHS), st.sampled_from([-0.4, -0.2, -0.1, -0.05, 0.05, 0.1, 0.2, 0.4]))
widths = st.dictionaries(st.sampled_from(PATHS), st.sampled_from([0.01, 0.02, 0.05, 0.1, 0.2]), min_size=1)


def accepted(changes):
    try:
        return check_sheet(sheet(changes))
    except SheetError:
        return None


@settings(QUICK, max_examples=150)
@given(moves, widths, widths, st.sampled_from(["front", "rear", "auto"]))
def test_more_uncertainty_never_improves_a_verdict(moved, some, more, placement):
    values = nudged(moved)
    known = {path: [values.get(path, nominal(path)), width] for path, width in some.items()}
    wider = {path: [values.get(path, nominal(path)), some.get(path, 0.0) + more.get(path, 0.0)] for path in some | more}
    first = accepted(values | known | {"spacer.placement": placement})
    if first is None:
        return
    second = check_sheet(sheet(values | wider | {"spacer.placement": placement}))
    before = {check.key: check for check in first.checks}
    told = [check.key for check in second.checks if other_words(check, before)]
    if not told:
        assert second.verdict in WORSE_OR_EQUAL[first.verdict]
    if first.pairing.stack.placement == second.pairing.stack.placement:
        for after in second.checks:
            if after.key in before and after.key not in told:
                assert after.verdict in WORSE_OR_EQUAL[before[after.key].verdict], after.key


def other_words(check, before):
    """Where the fit model says more of a coarse number: try the hand on, or the thread that its interval meets."""
    return "too near for measuring" in check.sentence or (
        check.key == "stem-thread" and threads_named(check) != threads_named(before["stem-thread"])
    )


def threads_named(check):
    """The threads as the check names them; a coarse number may meet the limits of one that a finer does not."""
    return [check.words[side].value for side in ("left", "right")]


@QUICK
@given(moves, st.sets(st.sampled_from([path for path in PATHS if path != "stem.thread"]), max_size=5))
def test_a_missing_input_changes_only_the_checks_that_name_it(moved, missing):
    """But for the stem's own numbers, which only count where they are given, and with hands that cannot be lifted.

    Whether the dial has to be reduced, and by how much the stem may sit off its hole, hang on a number as well.
    """
    values = nudged(moved) | {"rules": {"grip_min": 5.0}, "spacer.placement": "front"}
    whole = accepted(values)
    if whole is None:
        return
    before = {check.key: check for check in whole.checks}
    for check in check_sheet(sheet(values | dict.fromkeys(missing))).checks:
        if check.missing or missing & set(map(plain, check.undecided)):
            assert check.verdict == "unclear"
        elif check.key in before and check.key not in LEAN_ON_OTHERS:
            assert (check.verdict, check.value.value) == (before[check.key].verdict, before[check.key].value.value)


@settings(QUICK, max_examples=200)
@given(moves, st.sets(st.sampled_from(PATHS), min_size=1, max_size=6), st.sampled_from(["front", "rear", "auto"]))
def test_leaving_numbers_out_never_turns_what_goes_into_a_no(moved, missing, placement):
    values = nudged(moved) | {"spacer.placement": placement}
    whole = accepted(values)
    if whole is None or whole.verdict not in ("fits", "work"):
        return
    less = check_sheet(sheet(values | dict.fromkeys(missing)))
    assert less.verdict != "no", [check.key for check in less.checks if check.verdict == "no"]


LEAN_ON_OTHERS = {"gap-hour-dial", "gap-hour-minute", "gap-minute-seconds", "gap-furniture", "gap-crystal"} | {
    "stem-height",
    "back-gap",
    "dial-opening",
    "dial-trim",
    "hole-cover",
    "pad-room",
}
"""Checks that a number changes without being one of their inputs: where the hands are set, what comes off a dial."""


def plain(path):
    """dial.feet[0].angle as dial.feet.0.angle."""
    return path.replace("[", ".").replace("]", "")


@QUICK
@given(moves, widths)
def test_intervals_hold_their_value_and_rss_is_never_wider(moved, some):
    values = nudged(moved)
    found = accepted({path: [values.get(path, nominal(path)), width] for path, width in some.items()})
    for check in found.checks if found else ():
        if check.value.known:
            assert check.low - 1e-9 <= check.value.value <= check.high + 1e-9
            assert 0 <= check.value.rss <= check.value.half_width + 1e-12
            shares = sum(check.value.shares.values())
            assert shares == pytest.approx(1.0 if check.value.half_width else 0.0)


ANYTHING = st.recursive(
    st.none()
    | st.booleans()
    | st.integers()
    | st.floats()
    | st.text(max_size=8)
    | st.sampled_from([0.1, 1.5, 12.0, [12.0, 0.1], "back", "screw", 10**400]),
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(st.text(max_size=5), inner, max_size=3),
    max_leaves=5,
)


def every_path(node=SHEET, path=""):
    for name, value in node.items() if isinstance(node, dict) else enumerate(node):
        here = f"{path}.{name}" if path else str(name)
        yield here
        if isinstance(value, (dict, list)):
            yield from every_path(value, here)


@settings(QUICK, max_examples=400)
@given(st.sampled_from(list(every_path())), ANYTHING)
def test_any_value_at_any_path_gives_a_report_or_a_refusal_and_nothing_else(path, value):
    found = accepted({path: value})
    if found is not None:
        json.dumps(found.as_dict(), allow_nan=False)
        assert report_text(found).endswith("\n")


@QUICK
@given(ANYTHING)
def test_any_value_as_a_sheet(value):
    try:
        told = check_sheet(value).why
    except SheetError as error:
        told = str(error)
    assert told
    assert "\n" not in told


@QUICK
@given(st.sets(st.sampled_from(PATHS), max_size=40), moves)
def test_whatever_is_missing_the_report_can_be_written_and_drawn(missing, moved):
    found = accepted(nudged(moved) | dict.fromkeys(missing))
    if found is None:
        return
    json.dumps(found.as_dict(), allow_nan=False)
    report_text(found)
    drawn = [drawing(found) for drawing in (section_svg, stack_svg, dial_svg, window_svg)]
    for svg in drawn + [bar_svg(check) for check in found.checks]:
        assert "None" not in svg
        assert "nan" not in svg


@QUICK
@given(st.floats(1e-6, 99), st.sampled_from([0.0, 0.01, 0.02, 0.125]))
def test_millimetres_come_back_as_they_were_written(value, plus_minus):
    assert read_dimension(format_dimension(value, plus_minus)) == (value, plus_minus)


@QUICK
@given(st.integers(1, 40), st.integers(0, 15))
def test_lignes_come_back_from_their_millimetres(whole, sixteenths):
    reading = read_dimension(f"{whole} {sixteenths}/16'''")
    lignes = reading.value / float(LIGNE)
    assert lignes == pytest.approx(whole + sixteenths / 16, abs=3e-5)
    assert isfinite(reading.value)
