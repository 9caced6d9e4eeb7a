"""The command: manage.py fitcheck SHEET.json, what it prints, where, and how it ends."""

import io
import json
import subprocess
import sys
from pathlib import Path

import pytest
from django.core.management import CommandError, call_command

from parts.trials.chance import with_chance
from parts.trials.would_go import with_ways
from tests.fit.sheets import report, sheet

ROOT = Path(__file__).resolve().parents[2]


def run(*arguments, given=""):
    command = [sys.executable, "manage.py", "fitcheck", *arguments]
    return subprocess.run(command, cwd=ROOT, input=given, capture_output=True, text=True)


def printed(path, *arguments, **options):
    out = io.StringIO()
    call_command("fitcheck", str(path), *arguments, stdout=out, **options)
    return out.getvalue()


@pytest.fixture
def written(tmp_path):
    def write(changes=None, text=None):
        path = tmp_path / "sheet.json"
        path.write_text(json.dumps(sheet(changes)) if text is None else text, encoding="utf-8")
        return path

    return write


@pytest.mark.parametrize(
    "changes", [{}, {"case.back_depth": 3.0}, {"case.back_depth": None}, {"rules": {"stem_long_ok": 1}}]
)
def test_json_is_the_whole_report(written, changes):
    whole = with_chance(with_ways(report(changes)))
    assert json.loads(printed(written(changes), "--json")) == json.loads(json.dumps(whole.as_dict()))


UNSURE = {"case.back_depth": [3.95, 0.1], "hands.hour.length": 11.9}
"""Too close to call, and an hour hand longer than the minute hand."""


def told(written, changes, *arguments):
    return json.loads(printed(written(changes), "--json", *arguments))


def test_json_tells_the_edition_the_chance_and_the_doubts(written):
    found = told(written, UNSURE)
    assert found["edition"] == 2
    assert found["verdict"] == "unclear"
    assert set(found["chance"]) == {"fits", "work", "no"}
    assert sum(found["chance"].values()) == pytest.approx(1.0)
    (back,) = (item for item in found["checks"] if item["key"] == "back-gap")
    assert back["chance"] == pytest.approx({"fits": 0.25, "work": 0.5, "no": 0.25}, abs=0.02)
    (doubt,) = found["doubts"]
    assert doubt["inputs"] == ["hands.hour.length", "hands.minute.length"]
    assert (found["provisional"], found["waiting"], found["would_go"]) == (False, [], [])


def test_without_the_chance_it_is_null_and_all_else_the_same(written):
    with_it, without = told(written, UNSURE), told(written, UNSURE, "--no-chance")
    assert without["chance"] is None
    assert all(item["chance"] is None for item in without["checks"])
    alike = ("verdict", "doubts", "seating", "would_go", "rules", "spacer")
    assert {name: with_it[name] for name in alike} == {name: without[name] for name in alike}


def test_json_tells_what_would_make_it_go(written):
    ways = told(written, {"case.crystal_gap_centre": 2.1}, "--no-chance")["would_go"]
    assert {"check": "gap-crystal", "input": "case.crystal_gap_centre", "at_least": 2.25} in ways
    both = {"case.crystal_gap_centre": 2.1, "hands.hour.hole_diameter": 1.54, "hands.hour.hub_diameter": 1.7}
    (way,) = told(written, both, "--no-chance")["would_go"]
    assert len(way["changes"]) == 2


def test_json_tells_which_parts_are_not_chosen(written):
    found = told(written, {"crown": {}, "stem": None, "hands.seconds": None})
    assert found["waiting"] == ["stem", "crown"]
    waits = {item["key"]: item for item in found["checks"] if item["waits_for"]}
    assert set(waits) == {"stem-thread", "stem-length", "crown-tube", "stem-tube"}
    assert all(item["verdict"] is None for item in waits.values())
    assert waits["stem-length"]["waits_for"] == ["stem", "crown"]
    assert "SO FAR" in printed(written({"crown": {}}), no_color=True)


def test_a_hand_that_is_not_chosen_waits_by_itself(written):
    found = told(written, {"hands.minute": {}}, "--no-chance")
    assert found["waiting"] == ["hands.minute"]
    assert {"post-minute", "gap-hour-minute"} <= {item["key"] for item in found["checks"] if item["waits_for"]}
    assert not [item for item in found["checks"] if item["key"] == "post-hour" and item["waits_for"]]
    assert told(written, {"hands": {}}, "--no-chance")["waiting"] == ["hands"]


def test_json_tells_that_the_seating_is_provisional(written):
    found = told(written, {"hands.hour.hub_height": None})
    assert found["provisional"] is True
    assert found["chance"] is None
    gaps = {item["key"]: item for item in found["checks"] if item["key"].startswith("gap-")}
    assert gaps["gap-crystal"]["provisional"] is True
    assert gaps["gap-hour-dial"]["missing"] == ["hands.hour.hub_height"]
    assert "At best, until measured" in printed(written({"hands.hour.hub_height": None}), no_color=True)


@pytest.mark.parametrize(
    ("changes", "keys"),
    [
        ({"movement.fit_diameter": 29.0}, ("movement.fit_diameter", "movement.overall_diameter")),
        ({"movement.posts.minute.height": 1.1}, ("movement.posts.hour.height", "movement.posts.minute.height")),
        ({"case.back_depth": 1.9}, ("case.stem_axis_depth", "case.back_depth")),
    ],
)
def test_numbers_that_contradict_each_other_end_with_2_and_both_are_named(changes, keys):
    ended = run("--json", "-", given=json.dumps(sheet(changes)))
    assert (ended.returncode, ended.stdout, ended.stderr.count("\n")) == (2, "", 1)
    assert all(key in ended.stderr for key in keys)


def test_a_sheet_from_standard_input_ends_with_0_whatever_the_verdict():
    found = run("--json", "-", given=json.dumps(sheet({"case.back_depth": 3.0})))
    assert (found.returncode, found.stderr) == (0, "")
    assert json.loads(found.stdout)["verdict"] == "no"


def test_a_bad_sheet_ends_with_2_and_one_line_on_standard_error():
    found = run("-", given=json.dumps(sheet({"case.bore_diameter": -26})))
    assert (found.returncode, found.stdout) == (2, "")
    assert found.stderr.count("\n") == 1
    assert "case.bore_diameter is -26: " in found.stderr
    assert "above 0, at most 100 mm" in found.stderr


@pytest.mark.parametrize(
    "text", ["", "{", "[]", '{"a\\nb": 1}', '{"case": {"bore_diameter": NaN}}', '{"case": {"loading": "side"}}']
)
def test_every_bad_sheet_ends_with_2_on_one_line(written, text):
    with pytest.raises(CommandError) as caught:
        printed(written(text=text))
    assert caught.value.returncode == 2
    assert "\n" not in str(caught.value)


def test_a_file_that_is_not_there_or_is_no_text(tmp_path):
    (tmp_path / "bytes").write_bytes(b"\xff\xfe\x00")
    for name, words in (("none.json", "No such file"), ("bytes", "not a text file"), (".", "directory")):
        with pytest.raises(CommandError, match=words) as caught:
            printed(tmp_path / name)
        assert caught.value.returncode == 2


def test_the_readable_report_without_colour(written):
    told = printed(written(), no_color=True)
    assert told.startswith("FITS WITH WORK  ")
    assert "\033[" not in told


def test_colour_where_it_is_forced(written):
    assert "\033[" in printed(written(), force_color=True)
    assert "\033[" not in printed(written(), "--json", force_color=True)


def test_letters_beyond_ascii_come_through(written):
    told = printed(written({"dial.furniture.0.name": "Guichet doré €"}), "--json")
    assert "Minute hand to Guichet doré €" in told
