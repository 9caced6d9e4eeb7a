"""The chance of each verdict against draws of an own, one sheet at a time, in plain Python."""

import random

import pytest

from parts.fit import check_sheet
from parts.trials.chance import DRAWS, with_chance
from tests.fit.sheets import report, sheet

VERDICTS = ("fits", "work", "no")
OWN_DRAWS = 1500
TOL = 0.045
"""Three and a half standard deviations of a share out of 1500."""


def chance_of(changes):
    return with_chance(report(changes))


def shares(verdicts):
    return {verdict: verdicts.count(verdict) / len(verdicts) for verdict in VERDICTS}


def drawn_one_by_one(changes, seed=7):
    """The reports of plain sheets whose uncertain numbers were drawn evenly over their plus-minus."""
    chance = random.Random(seed)
    for _ in range(OWN_DRAWS):
        yield check_sheet(
            sheet(
                {
                    path: value[0] + value[1] * chance.uniform(-1, 1) if isinstance(value, list) else value
                    for path, value in changes.items()
                }
            )
        )


PLAIN = {"dial.furniture": []}
TIGHT = {
    "case.back_depth": [3.95, 0.08],
    "case.crystal_gap_centre": [2.27, 0.05],
    "movement.posts.seconds.height": [2.6, 0.04],
    "case.dial_seat_diameter": [28.52, 0.03],
}
LIFTED = {
    "hands.hour.hub_height": [0.7, 0.05],
    "hands.minute.hub_height": [0.6, 0.05],
    "movement.posts.minute.height": [1.85, 0.05],
    "case.crystal_gap_centre": [2.3, 0.06],
    "hands.seconds.hub_height": [0.55, 0.04],
}
DATE = {
    "movement.date.numeral_radius": [10.3, 0.2],
    "case.stem_angle": [90, 1.5],
    "dial.window.radial": [1.3, 0.05],
}


@pytest.mark.parametrize(
    "changes",
    [pytest.param(TIGHT, marks=pytest.mark.long), pytest.param(LIFTED, marks=pytest.mark.long), DATE],
    ids=["tight", "lifted", "date"],
)
def test_the_shares_agree_with_draws_one_by_one(changes):
    told = chance_of(changes)
    seen = list(drawn_one_by_one(changes))
    assert told.chance == pytest.approx(shares([found.verdict for found in seen]), abs=TOL)
    for item in told.checks:
        if item.key == "pad-room":
            continue  # asked in those draws only in which the feet do not hold
        assert item.chance == pytest.approx(shares([found[item.key].verdict for found in seen]), abs=TOL), item.key


def test_a_spacer_is_made_once_and_drawn_by_its_making_alone():
    """What the axes' ± does is to mis-size it.

    The stem drawn from 0.30 ±0.15 misses the 0.30 made by more than 0.10 in a third of the cases; the back gap has the
    spacer's own ±0.02 and its other numbers'.
    """
    changes = {"case.stem_axis_depth": [2.3, 0.15], "case.back_depth": [4.22, 0.01]}
    told = chance_of(changes | {"spacer.placement": "front"})
    assert told["stem-height"].verdict == "unclear"
    assert told["stem-height"].chance == pytest.approx({"fits": 0.0, "work": 2 / 3, "no": 1 / 3}, abs=0.015)
    either = random.Random(5).uniform
    gaps = [4.22 + 0.01 * either(-1, 1) - (0.3 + 0.02 * either(-1, 1) + 0.4 + 3.5) for _ in range(40_000)]
    below = sum(gap < 0 for gap in gaps) / len(gaps)
    assert told["back-gap"].chance == pytest.approx({"fits": 0.0, "work": 1 - below, "no": below}, abs=0.015)


def test_the_same_sheet_has_the_same_chance_each_time():
    first, second = chance_of(LIFTED), chance_of(LIFTED)
    assert first.as_dict() == second.as_dict()
    assert sum(first.chance.values()) == pytest.approx(1.0)
    assert all(share * DRAWS == pytest.approx(round(share * DRAWS)) for share in first.chance.values())


def test_a_check_that_lacks_a_number_has_no_chance_nor_has_the_pairing():
    told = chance_of({"case.back_depth": None, "case.crystal_gap_centre": [2.3, 0.1]})
    assert told.chance is None
    assert told["back-gap"].chance is None
    assert told["gap-crystal"].chance is not None
    assert told.as_dict()["chance"] is None


def test_advice_that_lacks_a_number_takes_no_chance_away():
    told = chance_of({"movement.current": None})
    assert told["cell-life"].chance is None
    assert told.chance == {"fits": 0.0, "work": 1.0, "no": 0.0}


def test_a_bound_has_no_chance_where_it_leaves_its_check_open():
    assert chance_of({"case.back_depth": {"at_least": 3.8}}).chance is None
    assert chance_of({"case.back_depth": {"at_least": 4.2}}).chance is not None


@pytest.mark.parametrize("changes", [{}, {"case.back_depth": [4.2, 0.01]}, {"case.back_depth": [3.5, 0.01]}])
def test_what_is_certain_has_all_its_chance_on_its_verdict(changes):
    told = chance_of(changes)
    assert told.chance[told.verdict] == 1.0


def test_the_chance_never_contradicts_the_worst_case():
    """But for what the date shows, whose ends are taken one number at a time (section 6)."""
    for changes in (TIGHT, LIFTED):
        for item in chance_of(changes).checks:
            if item.verdict in ("fits", "no"):
                assert item.chance[item.verdict] == 1.0, item.key
            if item.verdict == "work":
                assert item.chance["no"] == 0.0, item.key


@pytest.mark.parametrize("tried", ["loose", "grips", "tight"])
def test_a_hand_that_was_tried_is_drawn_with_the_others(tried):
    told = chance_of({"hands.hour.tried": tried, "hands.hour.hole_diameter": [1.53, 0.02]})
    assert sum(told["post-hour"].chance.values()) == pytest.approx(1.0)
    assert told["post-hour"].chance["no"] == 0.0


def test_the_sentence_tells_the_chance_where_it_is_unclear():
    told = chance_of({"case.back_depth": [3.98, 0.1]})
    assert told.verdict == "unclear"
    cases = round(100 * (1 - told.chance["no"]))
    assert f"in {cases} of 100 cases." in told.why


def test_what_would_settle_most_is_measured_next():
    """The back depth alone can make it a no; the other is wider but moves nothing past an edge."""
    told = chance_of({"case.back_depth": [3.95, 0.1], "movement.back_height": [3.5, 0.02]})
    assert [name for name, _ in told.measure_next] == ["case.back_depth", "movement.back_height"]
