"""How high the hands are set: against hand-worked cases and against a brute-force search over the wanted gap."""

from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from parts.fit import check_sheet
from tests.fit.sheets import report, sheet

GAP_MIN, GRIP_MIN = 0.15, 0.3


def lifts(found):
    return {name: seat["lift"] for name, seat in found.as_dict()["seating"].items()}


def test_hands_with_room_are_pressed_flush():
    found = report()
    assert lifts(found) == {"hour": 0.0, "minute": 0.0, "seconds": 0.0}
    heights = [seat["height_above_dial"] for seat in found.as_dict()["seating"].values()]
    assert heights == pytest.approx([0.8, 1.5, 2.2])


def test_a_low_hour_hand_is_lifted_to_the_wanted_gap_and_the_others_only_if_they_must():
    """Hub 0.70: its underside is 0.10 above the dial, so it goes up 0.05; the minute hand keeps 0.25 - 0.05 = 0.20."""
    found = report({"hands.hour.hub_height": 0.7})
    assert lifts(found) == pytest.approx({"hour": 0.05, "minute": 0.0, "seconds": 0.0})
    assert found["gap-hour-dial"].value.value == pytest.approx(0.15)
    assert found["gap-hour-minute"].value.value == pytest.approx(0.2)


def test_a_lift_that_pushes_the_next_hand_up():
    """Hub 0.80: up 0.15, which leaves the minute hand 0.10 - so it goes up 0.05 and leaves the seconds hand 0.25."""
    found = report({"hands.hour.hub_height": 0.8})
    assert lifts(found) == pytest.approx({"hour": 0.15, "minute": 0.05, "seconds": 0.0})
    assert found["gap-minute-seconds"].value.value == pytest.approx(0.25)


def test_furniture_lifts_a_hand_too():
    """The minute blade lies 1.35 above the dial; furniture 1.30 high leaves 0.05, so the hand goes up 0.10."""
    found = report({"dial.furniture.0.height": 1.3})
    assert lifts(found)["minute"] == pytest.approx(0.1)
    assert found["gap-furniture"].value.value == pytest.approx(0.15)


def test_the_hub_keeps_its_grip():
    """Hub 0.35 may go up 0.05 only: of the 0.10 wanted the gap below gets 0.05 and stands at 0.10."""
    found = report({"hands.hour.hub_height": 0.35, "movement.posts.hour.height": 0.8})
    assert lifts(found)["hour"] == pytest.approx(0.05)
    assert found["gap-hour-dial"].value.value == pytest.approx(0.1)
    assert found["gap-hour-dial"].verdict == "work"


def test_a_hub_shorter_than_the_grip_is_not_lifted_at_all():
    found = report({"hands.hour.hub_height": 0.2, "movement.posts.hour.height": 0.7})
    assert lifts(found)["hour"] == 0.0
    assert found["gap-hour-dial"].value.value == pytest.approx(0.1)


def test_the_crystal_shares_what_is_left():
    """Seconds 0.05 over the minute hand and 0.10 under the crystal: lifted 0.025, both have 0.075."""
    found = report({"movement.posts.seconds.height": 2.35, "case.crystal_gap_centre": 2.05})
    assert lifts(found) == pytest.approx({"hour": 0.0, "minute": 0.0, "seconds": 0.025})
    assert [found[key].value.value for key in ("gap-minute-seconds", "gap-crystal")] == pytest.approx([0.075, 0.075])


def test_where_nothing_clears_the_hands_are_set_at_their_least_bad():
    """The crystal takes 0.30 of the seconds hand however it is set: the others are pressed home as well as they can."""
    found = report({"case.crystal_gap_centre": 1.9, "hands.hour.hub_height": 0.7})
    assert lifts(found) == {"hour": 0.0, "minute": 0.0, "seconds": 0.0}
    assert found.pairing.seating.gap == pytest.approx(-0.3)
    assert found["gap-hour-dial"].value.value == pytest.approx(0.1)
    assert found["gap-crystal"].value.value == pytest.approx(-0.3)
    assert found.pairing.seating.why == "no height keeps the hands clear of each other, dial and crystal"


def test_the_lifts_change_without_a_jump_where_the_last_gap_is_used_up():
    """Seconds hub 0.30 deeper than the minute hand's top: with the crystal coming down the lift shrinks steadily."""
    changes = {"movement.posts.seconds.height": 2.0, "hands.seconds.hub_height": 0.6}
    steps = [report(changes | {"case.crystal_gap_centre": 1.9 - 0.01 * n}) for n in range(60)]
    rise = [lifts(found)["seconds"] for found in steps]
    assert max(abs(a - b) for a, b in pairwise(rise)) <= 0.0101
    assert steps[-1].pairing.seating.gap < -0.2


def test_contact_that_is_just_none_is_still_a_seating():
    """Crystal exactly at the seconds hand's top with the hour hand to lift: mu = 0 is feasible, no lift is needed."""
    found = report({"case.crystal_gap_centre": 2.2, "hands.hour.hub_height": 0.7})
    assert found.pairing.seating.gap == pytest.approx(0.0, abs=1e-9)
    assert found["gap-crystal"].value.value == pytest.approx(0.0, abs=1e-9)


@pytest.mark.parametrize(
    ("path", "unclear"),
    [
        ("hands.hour.hub_height", {"gap-hour-dial"}),
        ("movement.posts.minute.height", {"gap-hour-minute", "gap-minute-seconds", "gap-furniture", "gap-crystal"}),
        ("dial.thickness", {"gap-hour-dial", "gap-furniture", "gap-crystal"}),
        ("case.crystal_gap_centre", {"gap-crystal"}),
        ("hands.minute.hub_height", {"gap-hour-minute"}),
    ],
)
def test_what_lacks_a_number_sets_no_condition_and_the_rest_is_provisional(path, unclear):
    found = report({"hands.hour.hub_height": 0.7, path: None})
    gaps = [check for check in found.checks if check.key.startswith("gap-")]
    assert {check.key for check in gaps if check.verdict == "unclear"} == unclear
    assert found.provisional
    assert found.as_dict()["provisional"] is True
    assert found.pairing.seating.why.startswith("at best, until measured: ")
    for check in gaps:
        if check.key not in unclear:
            assert check.provisional == (path,)
            assert check.sentence.startswith("At best, until measured (")


def test_with_all_numbers_there_the_seating_is_not_provisional():
    assert not report().provisional
    assert report().pairing.seating.why == ""


def test_a_no_that_stands_with_a_number_missing_is_no_guess():
    """Whatever the hour hand's hub: the seconds hand meets the crystal."""
    found = report({"hands.hour.hub_height": None, "case.crystal_gap_centre": 2.2})
    assert (found["gap-crystal"].verdict, found.verdict) == ("no", "no")
    assert "At best" not in found["gap-crystal"].sentence
    for hub in (0.2, 0.5, 0.9):
        assert report({"hands.hour.hub_height": hub, "case.crystal_gap_centre": 2.2}).verdict == "no"


@pytest.mark.parametrize("path", ["hands.hour.thickness", "hands.hour.mass", "hands.seconds.hub_diameter"])
def test_what_the_lift_does_not_need_does_not_hold_it_back(path):
    found = report({"hands.hour.hub_height": 0.7, path: None})
    assert lifts(found)["hour"] == pytest.approx(0.05)


def test_a_bench_rule_changes_the_wanted_gap():
    found = report({"rules": {"gap_min": 0.31}, "case.crystal_gap_centre": 3.0})
    assert lifts(found) == pytest.approx({"hour": 0.01, "minute": 0.07, "seconds": 0.08})


def least_lifts(heights, hubs, blades, face, furniture, mu):
    """The least lifts for one wanted gap, straight from the fit model's sentence."""
    found, floor = [], face
    for height, hub, blade, passes in zip(heights, hubs, blades, furniture, strict=True):
        lift = max(0.0, floor + mu - (height - hub), *[face + over + mu - (height - blade) for over in passes])
        found.append(lift)
        floor = height + lift
    return found


def searched(heights, hubs, blades, face, crystal, furniture):
    """The largest feasible mu up to gap_min on a grid of 1e-4, and its lifts; it may be far below zero."""
    for step in range(int(GAP_MIN * 1e4), -30_001, -1):
        found = least_lifts(heights, hubs, blades, face, furniture, step / 1e4)
        held = all(lift <= max(0.0, hub - GRIP_MIN) + 1e-9 for lift, hub in zip(found, hubs, strict=True))
        room = min(face + crystal - height - lift for height, lift in zip(heights, found, strict=True))
        if held and room >= step / 1e4 - 1e-9:
            return found
    return None


hundredths = lambda low, high: st.integers(round(low * 100), round(high * 100)).map(lambda n: n / 100)  # noqa: E731


@settings(max_examples=150, deadline=None)
@given(
    st.tuples(hundredths(0.7, 1.3), hundredths(0.3, 0.9), hundredths(0.3, 0.9)),
    st.tuples(hundredths(0.2, 0.9), hundredths(0.2, 0.7), hundredths(0.2, 0.7)),
    hundredths(1.4, 2.8),
    hundredths(0.0, 1.5),
)
def test_the_exact_solution_is_what_a_search_finds(steps, hubs, crystal, height):
    heights = [steps[0], steps[0] + steps[1], sum(steps)]
    changes = {"case.crystal_gap_centre": crystal, "dial.furniture.0.height": height}
    for name, top, hub in zip(("hour", "minute", "seconds"), heights, hubs, strict=True):
        changes |= {f"movement.posts.{name}.height": top, f"hands.{name}.hub_height": hub}
    passes = [[], [height], [height]]
    expected = searched(heights, hubs, (0.15, 0.15, 0.1), 0.4, crystal, passes)
    assert list(lifts(check_sheet(sheet(changes))).values()) == pytest.approx(expected, abs=3e-4)
