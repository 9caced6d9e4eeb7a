"""Dial feet in the movement's holes: the edge of the play, one hole for one foot, and the marks for new feet."""

import pytest

from tests.fit.sheets import judged, keys, kinds, report

PLAY = (0.8 - 0.7) / 2 + 0.05


@pytest.mark.parametrize(
    ("radius", "caught"),
    [(11.0, 2), (11.0 + PLAY - 0.01, 2), (11.0 + PLAY, 2), (11.0 + PLAY + 1e-8, 1), (11.0 - PLAY, 2), (10.89, 1)],
)
def test_a_foot_is_caught_up_to_the_play_and_the_slack(radius, caught):
    found = judged("dial-feet", {"dial.feet.0.radius": radius})
    assert found.value.value == caught
    assert found.verdict == ("fits" if caught == 2 else "work")
    assert kinds(found) == ([] if caught == 2 else ["work"])


def test_feet_turn_on_a_circle_too():
    """At radius 11 the play of 0.10 is 0.5209 degrees."""
    assert judged("dial-feet", {"dial.feet.0.angle": 45.52}).verdict == "fits"
    assert judged("dial-feet", {"dial.feet.0.angle": 45.53}).verdict == "work"


@pytest.mark.parametrize("slack", [0.0, 0.2])
def test_the_slack_is_a_bench_rule(slack):
    found = judged("dial-feet", {"dial.feet.0.radius": 11.2, "rules": {"foot_slack": slack}})
    assert found.value.value == (2 if slack else 1)


def test_holes_turn_with_the_stem():
    assert judged("dial-feet", {"case.stem_angle": 100}).value.value == 0
    assert judged("dial-feet", {"case.stem_angle": 100, "dial.feet.0.angle": 55, "dial.feet.1.angle": 210}).verdict == (
        "fits"
    )


def test_one_hole_takes_one_foot():
    twins = [{"angle": 45, "radius": r, "diameter": 0.7} for r in (10.95, 11.05)]
    found = judged("dial-feet", {"dial.feet": twins})
    assert (found.value.value, found.verdict) == (1, "work")


def test_a_foot_gives_up_its_hole_for_one_that_has_no_other():
    """Foot 1 reaches both holes, foot 2 only the first: both must be caught."""
    holes = [{"angle": 315, "radius": r, "diameter": 0.8} for r in (11.0, 11.12)]
    feet = [{"angle": 45, "radius": r, "diameter": 0.7} for r in (11.05, 10.95)]
    found = report({"movement.foot_holes": holes, "dial.feet": feet})
    assert found["dial-feet"].verdict == "fits"
    assert [mark.foot for mark in found.foot_marks] == [1, 0]


def test_a_dial_without_feet_needs_fixing():
    found = judged("dial-feet", {"dial.feet": []})
    assert (found.value.value, found.verdict, kinds(found)) == (0, "work", ["work"])
    assert found.sentence == "The dial has no feet."


def test_feet_but_no_holes_is_work_and_never_no():
    found = judged("dial-feet", {"movement.foot_holes": []})
    assert (found.value.value, found.verdict, found.missing) == (0, "work", ())


@pytest.mark.parametrize(
    ("path", "missing"),
    [
        ("dial.feet", ("dial.feet",)),
        ("movement.foot_holes", ("movement.foot_holes",)),
        ("dial.feet.1.radius", ("dial.feet[1].radius",)),
        ("movement.foot_holes.0.diameter", ("movement.foot_holes[0].diameter",)),
        ("case.stem_angle", ("case.stem_angle",)),
    ],
)
def test_what_is_not_measured_is_named(path, missing):
    found = judged("dial-feet", {path: None})
    assert (found.verdict, found.missing) == ("unclear", missing)


def test_missing_holes_and_a_missing_foot_are_named_together():
    found = judged("dial-feet", {"movement.foot_holes": None, "dial.feet.0.angle": None})
    assert found.missing == ("movement.foot_holes", "dial.feet[0].angle")


def test_marks_say_where_the_holes_lie_on_the_dial():
    marks = report({"dial.feet.1.angle": 190}).as_dict()["foot_marks"]
    assert marks == [
        {"angle": pytest.approx(45.0), "minute": pytest.approx(7.5), "radius": 11.0, "foot": 0},
        {"angle": pytest.approx(200.0), "minute": pytest.approx(33.333333333), "radius": 11.0, "foot": None},
    ]


def test_marks_are_there_for_a_dial_without_feet_and_gone_without_the_stems_angle():
    assert len(report({"dial.feet": []}).foot_marks) == 2
    assert report({"case.stem_angle": None}).foot_marks == []


LOOSE = {"dial.feet": []}


@pytest.mark.parametrize(
    ("disc", "value", "verdict"),
    [(12.19, 0.485, "work"), (12.175, 0.5, "fits"), (12.18, 0.495, "work"), (12.16, 0.515, "fits")],
)
def test_room_for_pads_beside_the_disc(disc, value, verdict):
    """The movement's 25.95 is narrower than the dial's 28.5: 12.975 - (disc + 0.30)."""
    found = judged("pad-room", LOOSE | {"movement.date.disc_outer_radius": disc})
    assert found.value.value == pytest.approx(value)
    assert (found.verdict, found.must) == (verdict, False)
    assert kinds(found) == (["work"] if verdict == "work" else [])


def test_a_dial_smaller_than_the_movement_sets_the_room():
    found = judged("pad-room", LOOSE | {"dial.diameter": 25.0, "dial.window": None})
    assert found.value.value == pytest.approx(12.5 - 11.3)


@pytest.mark.parametrize("changes", [{}, LOOSE | {"movement.date": None}, {"dial.feet": None}])
def test_pads_are_only_spoken_of_where_they_are_needed_beside_a_disc(changes):
    assert "pad-room" not in keys(report(changes))
