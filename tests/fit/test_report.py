"""The whole report: its keys, its JSON, and what it was computed from."""

import json
import subprocess
import sys
from pathlib import Path

import pytest

from parts.fit import check_sheet
from parts.fit.checks.dial_edge import REDUCE
from tests.fit.sheets import ABSENT, keys, report, sheet

ROOT = Path(__file__).resolve().parents[2]

ALWAYS = [
    "case-bore",
    "holder-wall",
    "stem-height",
    "back-gap",
    "hour-wheel",
    "dial-bore",
    "dial-seat",
    "dial-opening",
    "dial-furniture",
    "dial-sunk",
    "centre-hole",
    "hole-cover",
    "dial-feet",
    "post-hour",
    "post-minute",
    "post-seconds",
    "gap-hour-dial",
    "gap-hour-minute",
    "gap-minute-seconds",
    "gap-furniture",
    "gap-crystal",
    "tip-clearance",
    "reach-minute",
    "reach-hour",
    "unbalance-hour",
    "unbalance-minute",
    "unbalance-seconds",
    "date-present",
    "date-tilt",
    "date-position",
    "date-cut",
    "date-neighbours",
    "date-disc",
    "date-depth",
    "stem-thread",
    "stem-length",
    "stem-tube",
    "crown-tube",
    "cell-life",
]
ADVICE = {"reach-minute", "reach-hour", "crown-tube", "cell-life"} | {
    "hour-wheel",
    "dial-sunk",
    "hole-cover",
    "date-disc",
    "date-depth",
}


def test_every_check_that_applies_is_there_once():
    assert keys(report()) == ALWAYS
    assert {check.key for check in report().checks if not check.must} == ADVICE


def test_of_an_empty_sheet_everything_is_unclear_but_what_is_not_there():
    """A part that is there with one number of no consequence is chosen: what it has not told is missing."""
    found = check_sheet(
        {
            "case": {"seat_wall": 1.0},
            "dial": {"pad_thickness": 0.1},
            "movement": {"day": True},
            "hands": {name: {"mass": 1.0} for name in ("hour", "minute", "seconds")},
            "stem": {"uncut_gap": 1.0},
            "crown": {"spring_travel": 1.0},
        }
    )
    assert (found.verdict, found.waiting) == ("unclear", [])
    assert {check.key for check in found.checks if check.verdict != "unclear"} == set()


def test_of_an_empty_sheet_everything_waits():
    for data in ({}, None, {"case": {}, "hands": {"hour": {}}}):
        found = check_sheet(data)
        assert (found.checks, found.verdict) == ([], "fits")
        assert found.waiting == ["case", "dial", "movement", "hands", "stem", "crown"]
        assert all(check["verdict"] is None for check in found.as_dict()["checks"])


def test_a_case_loaded_from_the_front_tells_nothing_of_a_dial_and_a_movement_before_they_are_chosen():
    case = {"construction": "front", "ring": "tension", "bore_diameter": 28.4}
    alone = check_sheet({"case": case})
    assert (alone.checks, alone.has_verdict, alone.why) == ([], False, "No verdict yet.")
    assert alone["dial-sunk"].waits_for == alone["hour-wheel"].waits_for == ("dial", "movement")
    with_dial = check_sheet({"case": case, "dial": {"thickness": 0.4}})
    assert with_dial["hour-wheel"].waits_for == ("movement",)
    both = check_sheet({"case": case, "dial": {"thickness": 0.4}, "movement": {"overall_diameter": 26.0}})
    assert (both["dial-sunk"].verdict, both["hour-wheel"].verdict) == ("fits", "fits")


def test_advice_alone_makes_no_verdict():
    """Of a movement alone there is only how long its cell lasts."""
    found = check_sheet({"movement": {"cell_capacity": 20.0, "current": 1.0}})
    assert [(check.key, check.must) for check in found.checks] == [("cell-life", False)]
    assert (found.has_verdict, found.why) == (False, "No verdict yet.")


def test_the_json_of_a_report():
    told = json.loads(json.dumps(report({"case.back_depth": [4.0, 0.05]}).as_dict(), allow_nan=False))
    assert list(told) == [
        "edition",
        "verdict",
        "why",
        "chance",
        "provisional",
        "waiting",
        "would_go",
        "doubts",
        "checks",
        "spacer",
        "seating",
        "stem",
        "foot_marks",
        "measure_next",
        "rules",
    ]
    gap = next(check for check in told["checks"] if check["key"] == "back-gap")
    assert gap == {
        "key": "back-gap",
        "title": "Back clearance",
        "subject": "Height",
        "must": True,
        "verdict": "work",
        "waits_for": [],
        "chance": None,
        "provisional": False,
        "value": pytest.approx(0.1),
        "low": pytest.approx(0.05),
        "high": pytest.approx(0.15),
        "rss": pytest.approx(0.05),
        "unit": "mm",
        "limits": [0.1, None],
        "margin": pytest.approx(0.0, abs=1e-12),
        "sentence": "0.10 mm of clearance to the case back. With its ± this is 0.05 mm to 0.15 mm: may need work.",
        "remedies": [{"kind": "work", "text": "Relieve or re-seat the case back."}],
        "shares": {"case.back_depth": 1.0, "dial.thickness": 0.0, "movement.back_height": 0.0},
        "missing": [],
    }


def test_a_check_that_waits_has_no_numbers():
    check = next(c for c in report({"case.back_depth": None}).as_dict()["checks"] if c["key"] == "back-gap")
    assert [check[name] for name in ("value", "low", "high", "rss", "limits", "margin")] == [None] * 6
    assert check["sentence"] == "Not measured yet: case back depth."
    assert check["missing"] == ["case.back_depth"]
    assert check["remedies"] == []


def test_a_check_with_a_value_and_a_missing_limit_keeps_its_value():
    check = next(
        c for c in report({"movement.unbalance_limits.hour": None}).as_dict()["checks"] if c["key"] == "unbalance-hour"
    )
    assert check["value"] == pytest.approx(0.2353596)
    assert (check["verdict"], check["missing"]) == ("unclear", ["movement.unbalance_limits.hour"])


def test_the_rules_it_was_computed_with_stand_in_it():
    assert report({"rules": {"gap_min": 0.2}}).as_dict()["rules"]["gap_min"] == 0.2
    assert report().as_dict()["rules"]["gap_min"] == 0.15


def test_the_verdict_does_not_hang_on_the_order_of_keys():
    def turned(node):
        if isinstance(node, dict):
            return {name: turned(node[name]) for name in reversed(node)}
        return [turned(item) for item in node] if isinstance(node, list) else node

    for changes in ({}, {"case.back_depth": [3.9, 0.1], "crown.thread": None}):
        assert check_sheet(turned(sheet(changes))).as_dict() == report(changes).as_dict()


def test_the_sheet_is_left_as_it_was():
    given = sheet({"case.back_depth": [4.0, 0.1]})
    before = json.dumps(given)
    check_sheet(given)
    assert json.dumps(given) == before


@pytest.mark.parametrize("part", ["case", "dial", "movement", "hands", "stem", "crown", "spacer", "rules"])
def test_a_part_may_be_null_or_absent(part):
    assert report({part: None}).as_dict() == report({part: ABSENT}).as_dict()


def test_null_and_absent_are_both_not_measured():
    assert report({"case.back_depth": None}).as_dict() == report({"case.back_depth": ABSENT}).as_dict()


def test_a_tuple_and_a_list_are_the_same():
    assert report({"case.back_depth": (4.0, 0.1)}).as_dict() == report({"case.back_depth": [4.0, 0.1]}).as_dict()


def test_subjects_group_the_checks_in_order():
    groups = report().by_subject()
    assert [name for name, _ in groups] == [
        "Case and holder",
        "Height",
        "Dial",
        "Hands",
        "Date",
        "Stem and crown",
        "Cell",
    ]
    assert [check.key for _, checks in groups for check in checks] == ALWAYS


def test_a_check_is_found_by_its_key():
    assert report()["cell-life"].key == "cell-life"
    with pytest.raises(KeyError):
        report()["no-such-check"]


def test_the_engine_checks_a_sheet_with_django_absent():
    code = (
        "import json, sys; sys.modules['django'] = None; from parts.fit import check_sheet; "
        "print(check_sheet(json.load(sys.stdin)).verdict)"
    )
    run = subprocess.run(
        [sys.executable, "-S", "-c", code], cwd=ROOT, input=json.dumps(sheet()), capture_output=True, text=True
    )
    assert (run.stdout, run.stderr) == ("work\n", "")


def test_only_one_trim_is_asked_for_by_two_checks_in_the_same_words():
    """Columns tell remedies apart by their words alone, blanks unfilled: see parts/fit/answer/asked.py."""
    askers = {}
    for check in report({}).checks:
        for remedy in {remedy for band in check.bands for remedy in band.remedies}:
            askers.setdefault(remedy.text, set()).add(check.key)
    assert {text: keys for text, keys in askers.items() if len(keys) > 1} == {REDUCE: {"dial-bore", "dial-seat"}}


def test_a_marker_with_braces_in_its_name_can_be_asked_for():
    found = report({"dial.furniture.0.name": "{index}", "dial.furniture.0.height": 1.25, "rules": {"grip_min": 5.0}})
    assert "{index}" in found["gap-furniture"].remedies[0].text
