"""The command: manage.py fitcheck SHEET.json, what it prints, where, and how it ends."""

import io
import json
import subprocess
import sys
from pathlib import Path

import pytest
from django.core.management import CommandError, call_command

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
    assert json.loads(printed(written(changes), "--json")) == json.loads(json.dumps(report(changes).as_dict()))


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
    "text", ["", "{", "[]", '{"a\\nb": 1}', '{"case": {"bore_diameter": NaN}}', '{"case": {"loading": "front"}}']
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
