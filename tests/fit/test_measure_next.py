"""What to measure next: missing inputs first, then by what an input adds to the unclear musts together."""

import pytest

from tests.fit.sheets import report


def asked(changes):
    return report(changes).measure_next


def test_nothing_unclear_nothing_to_measure():
    assert asked({"case.back_depth": [4.1, 0.02]}) == []


def test_the_larger_share_comes_first():
    found = asked({"case.back_depth": [4.0, 0.1], "movement.back_height": [3.5, 0.2]})
    assert found == [("movement.back_height", ("back-gap",)), ("case.back_depth", ("back-gap",))]


def test_what_is_missing_comes_before_what_is_uncertain():
    found = asked({"case.back_depth": [4.0, 0.9], "case.bore_diameter": None})
    assert found[0] == ("case.bore_diameter", ("case-bore", "holder-wall", "dial-bore"))
    assert found[1] == ("case.back_depth", ("back-gap",))


def test_of_missing_inputs_the_one_that_decides_most_comes_first():
    found = asked({"crown.thread": None, "case.bore_diameter": None, "dial.thickness": None})
    assert [name for name, _ in found] == ["dial.thickness", "case.bore_diameter", "crown.thread"]


def test_an_input_is_summed_over_the_checks_that_it_keeps_unclear():
    """The bore's 0.1 enters the movement's and the dial's way in, 0.2 together; the movement's 0.15 enters one."""
    found = asked(
        {
            "case.bore_diameter": [28.7, 0.1],
            "movement.overall_diameter": [28.65, 0.15],
            "dial.diameter": 29.2,
            "case.dial_seat_diameter": 29.3,
        }
    )
    assert found == [
        ("case.bore_diameter", ("case-bore", "dial-bore")),
        ("movement.overall_diameter", ("case-bore",)),
    ]


def test_an_input_counts_with_its_slope():
    """In the cover both diameters count half: 0.10 of the opening weighs less than 0.06 of the back."""
    found = asked({"case.dial_opening_diameter": [28.5, 0.1], "case.back_depth": [3.9, 0.06]})
    assert [name for name, _ in found] == ["case.back_depth", "case.dial_opening_diameter"]


def test_an_input_that_is_missing_in_one_check_is_not_listed_twice():
    names = [name for name, _ in asked({"dial.thickness": None, "case.back_depth": [4.0, 0.5]})]
    assert len(names) == len(set(names))


def test_what_is_decided_already_asks_for_nothing():
    assert "case.bore_diameter" not in dict(asked({"case.bore_diameter": [26.5, 0.2], "case.back_depth": [3.9, 0.1]}))


@pytest.mark.parametrize(
    "advice", ["dial.minute_track_radius", "movement.current", "crown.tube_bore_diameter", "hands.hour.mass"]
)
def test_advice_is_never_asked_for(advice):
    found = report({advice: None})
    assert any(advice in check.missing for check in found.checks)
    assert found.measure_next == []


def test_a_spacer_that_cannot_be_sized_asks_for_the_stem_axes():
    found = asked({"case.stem_axis_depth": [2.4, 0.04], "movement.stem_axis_depth": [1.6, 0.08], "case.back_depth": 9})
    assert found == [("movement.stem_axis_depth", ("stem-height",)), ("case.stem_axis_depth", ("stem-height",))]
