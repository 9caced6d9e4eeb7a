"""CSV files of parts: out, checked, and in again."""

import csv
import io
from datetime import timedelta

import pytest
from django.utils import timezone

from parts.csv import files
from parts.library.kinds import KINDS
from parts.library.part_records import find
from parts.models import Case, CaseFamily, CsvFile, Dial, HandSet, Movement
from parts.tools.spreadsheet import guarded, unguarded
from tests.factories import (
    CaseFactory,
    CaseFamilyFactory,
    CrownFactory,
    DialFactory,
    DialFurnitureFactory,
    FootHoleFactory,
    HandFactory,
    HandSetFactory,
    MovementFactory,
    StemFactory,
)

pytestmark = pytest.mark.django_db


def exported(slug):
    return files.export(kind=KINDS[slug], records=find(kind=KINDS[slug]))


def kept(slug, text):
    return files.keep(kind=KINDS[slug], name="parts.csv", data=text.encode())


def imported(slug, text):
    return files.import_all(kind=KINDS[slug], file=kept(slug, text))


def faults(slug, text):
    return files.check(kind=KINDS[slug], text=text).faults


def fill_library():
    CaseFactory(
        name="=1+1",
        notes='two lines,\n"quoted"; and more',
        bore_diameter=25.942,
        bore_diameter_source="e",
        back_depth=None,
        stem_angle=-90.0,
        stem_angle_pm=1.5,
        in_stock=0,
    )
    CaseFactory(name="'tis", family=None, loading="front")
    dial = DialFactory(dated=True, day_window=True, name="@ 6")
    DialFurnitureFactory(
        dial=dial, name="=rim; \\ raised: high", height=None, inner_radius_source="s", outer_radius_pm=0.02
    )
    DialFactory(feet=False, furniture=False)
    DialFactory(feet=False, furniture=False, feet_recorded=False)
    FootHoleFactory(movement=MovementFactory(dated=True), angle=-120.5, angle_pm=0.5, radius=None)
    MovementFactory(kind="", rate_low_s_per_day=None, unbalance_hour_source="m", cell_type="", has_day=True)
    HandSetFactory(seconds=False)
    HandFactory(hand_set=HandSetFactory(hands=False, seconds=False), role="seconds", mass=None)
    StemFactory(uncut_gap=3.25)
    CrownFactory(style="", thread=None)
    CrownFactory(style="screw", spring_travel=1.2)
    CaseFamilyFactory(notes="round")


@pytest.mark.parametrize("slug", KINDS)
def test_a_file_that_is_imported_and_exported_again_is_the_same(slug):
    fill_library()
    text = exported(slug)
    for kind in reversed(KINDS.values()):
        kind.model.objects.all().delete()
    count = imported(slug, text)
    assert count == len(list(csv.reader(io.StringIO(text, newline="")))) - 1
    assert count >= 1
    assert exported(slug) == text


def test_cells_are_written_as_a_person_reads_them():
    CaseFactory(name="a", family__name="Tern", bore_diameter=27.4, bore_diameter_source="s", stem_angle=-90.0)
    DialFactory(name="b")
    case = next(csv.DictReader(io.StringIO(exported("cases"))))
    dial = next(csv.DictReader(io.StringIO(exported("dials"))))
    assert case["family"] == "Tern"
    assert case["bore diameter"] == "27.40 ±0.02 maker's sheet"
    assert case["stem angle"] == "−90 measured"
    assert case["crystal gap edge"] == ""
    assert case["loading"] == "from the back"
    assert dial["feet"] == "55 11.00 0.70; 235 11.00 0.70"
    assert dial["furniture"] == "markers: 8.80 11.40 0.30"
    assert dial["has window"] == "no"


@pytest.mark.parametrize(("slug", "rows"), [("dials", "feet"), ("movements", "foot holes")])
def test_whether_rows_were_looked_at_stands_in_their_own_column_alone(slug, rows):
    headings = next(csv.reader(io.StringIO(exported(slug))))
    assert rows in headings
    assert len(headings) == len(set(headings))
    assert not [heading for heading in headings if "recorded" in heading]


def test_a_file_of_any_separator_order_and_spelling_is_read():
    text = "BORE_diameter;Name;family\n27,40+-0,02;one;Tern\n;two;Tern\n\n11 1/2''' estimated;three;\n"
    assert imported("cases", "\ufeff" + text) == 3
    one, three, two = Case.objects.all()
    assert (one.bore_diameter, one.bore_diameter_pm, one.bore_diameter_source) == (27.4, 0.02, "m")
    assert two.bore_diameter is None
    assert (three.bore_diameter, three.bore_diameter_source) == (25.942, "e")
    assert one.family == two.family == CaseFamily.objects.get(name="Tern")
    assert three.family is None


def test_an_existing_family_is_used_and_a_put_away_one_is_not():
    there = CaseFamilyFactory(name="Tern")
    CaseFamilyFactory(name="Gull", archived=True)
    imported("cases", "name,family\none,Tern\ntwo,Gull\n")
    assert Case.objects.get(name="one").family == there
    assert CaseFamily.objects.filter(name="Gull").count() == 2


def test_rows_tell_none_from_not_looked_at():
    imported("dials", "name,feet\na,none\nb,\nc,55 11.8±0.1(estimated) ?\n")
    a, b, c = Dial.objects.all()
    assert (a.feet_recorded, b.feet_recorded, c.feet_recorded) == (True, False, True)
    foot = c.feet.get()
    assert (foot.angle, foot.radius, foot.radius_pm, foot.radius_source) == (55.0, 11.8, 0.1, "e")
    assert foot.diameter is None


def test_a_hand_set_has_a_seconds_hand_only_where_the_file_says_so():
    imported("hand-sets", "name,has seconds,seconds length\na,yes,12\nb,,\n")
    a, b = HandSet.objects.all()
    assert [hand.role for hand in a.hands.all()] == ["hour", "minute", "seconds"]
    assert [hand.role for hand in b.hands.all()] == ["hour", "minute"]
    (fault,) = faults("hand-sets", "name,seconds length\na,12\n")
    assert (fault.row, fault.column) == (2, "has seconds")


@pytest.mark.parametrize(
    ("slug", "heading", "value", "reason"),
    [
        ("cases", "bore diameter", "wide", "not a number"),
        ("cases", "bore diameter", "27.4 guessed", "you can write measured, maker's sheet or estimated"),
        ("cases", "bore diameter", "270", "must be above 0, at most 100 mm"),
        ("cases", "bore diameter", "27 ±200", "A plus-minus of 200.00 mm is out of range"),
        ("cases", "loading", "sideways", "Write from the back or from the front"),
        ("cases", "in stock", "-1", "whole number, 0 or more"),
        ("cases", "in stock", "1.5", "whole number, 0 or more"),
        ("cases", "family", "f" * 81, "Shorten it to 80"),
        ("dials", "feet", "55 11.8", "Write <angle> <radius> <diameter>"),
        ("dials", "feet", "55 -1 0.7", "must be between 0 and 100 mm"),
        ("dials", "furniture", "rim: 12 11 0.3", "the two radii are the wrong way round"),
        ("dials", "has window", "perhaps", "Write yes or no"),
        ("movements", "rate low s per day", "1 ±1", "No ± here, please"),
        ("movements", "rate low s per day", "9000", "within 3600 s/day"),
        ("hand-sets", "hour mass", "heavy", "not a number"),
    ],
)
def test_a_bad_cell_is_named_with_row_column_value_and_reason(slug, heading, value, reason):
    lines = io.StringIO()
    csv.writer(lines).writerows([["name", heading], ["fine", ""], ["bad", value]])
    (fault,) = faults(slug, lines.getvalue())
    assert fault.row == 3
    assert (fault.column, fault.value) == (heading, value[:60])
    assert reason in fault.reason


def test_a_dimension_of_what_a_part_does_not_have_is_a_fault():
    (fault,) = faults("dials", "name,window angle\na,90\n")
    assert (fault.row, fault.column) == (2, "has window")
    assert "You entered the window angle of a date window" in fault.reason


def test_every_fault_of_a_file_is_found_at_once():
    found = faults("cases", "name,bore diameter,back depth\n,27,x\nb,1,2,3\nc,-1,-2\nd,1,2\n")
    assert [(fault.row, fault.column) for fault in found] == [
        (2, "back depth"),
        (3, ""),
        (4, "bore diameter"),
        (4, "back depth"),
    ]
    assert faults("cases", "name,bore diameter\n,27\n")[0].reason == "Give it a name."


def test_contradictions_within_a_part_are_faults():
    (fault,) = faults("hand-sets", "name,hour thickness,hour hub height\na,0.3,0.2\n")
    assert (fault.column, fault.value) == ("hour hub height", "0.2")
    assert "the hub is thinner than the blade" in fault.reason


@pytest.mark.parametrize(
    ("data", "message"),
    [
        (b"", "no headings"),
        (b"\n\n", "no headings"),
        (b"name\n", "no case below"),
        (b"name\n\n \n", "no case below"),
        (b"name,colour\na,b\n", "There is no case column “colour”"),
        (b"bore diameter\n27\n", "The column “name” is missing"),
        (b"name,Name\na,b\n", "is there twice"),
        ("name\né\n".encode("latin-1"), "not UTF-8"),
        ("name\na\n".encode("utf-16"), "not UTF-8"),
        (b"name\n\0\n", "not a text file"),
        (b'name\n"a\n', "not a CSV file"),
        (b"name\n" + b"a" * 2_000_000, "larger than 2 MB"),
        (b"name\n" + b"a\n" * 5_001, "has 5001 rows, and 5000 is the limit"),
        (b'name,notes\na,"' + b"n" * 140_000 + b'"\n', "not a CSV file"),
    ],
)
def test_a_file_that_cannot_be_read_is_refused_and_not_kept(data, message):
    with pytest.raises(files.CsvError, match=message):
        files.keep(kind=KINDS["cases"], name="x.csv", data=data)
    assert not CsvFile.objects.exists()


def test_a_file_that_was_never_imported_is_dropped_after_two_days_and_a_younger_one_stays():
    old, young = kept("cases", "name\nold\n"), kept("cases", "name\nyoung\n")
    CsvFile.objects.filter(pk=old.pk).update(created=timezone.now() - timedelta(days=2, minutes=1))
    newest = kept("cases", "name\nnewest\n")
    assert set(CsvFile.objects.all()) == {young, newest}


def test_one_bad_row_keeps_the_whole_file_out():
    file = kept("cases", "name,family,bore diameter\na,Tern,27\nb,Tern,x\n")
    with pytest.raises(files.CsvError, match="Nothing imported"):
        files.import_all(kind=KINDS["cases"], file=file)
    assert not Case.objects.exists()
    assert not CaseFamily.objects.exists()
    assert CsvFile.objects.filter(pk=file.pk).exists()


def test_a_file_is_imported_once():
    file = kept("movements", "name\na\n")
    files.import_all(kind=KINDS["movements"], file=file)
    with pytest.raises(files.CsvError, match="already"):
        files.import_all(kind=KINDS["movements"], file=file)
    assert Movement.objects.count() == 1


@pytest.mark.parametrize("text", ["=1+1", "+1 a", "-x", "@sum", "\tx", "\rx", "'=x", "'tis", "''x"])
def test_what_looks_like_a_formula_is_guarded_and_comes_back(text):
    assert guarded(text)[0] == "'"
    assert unguarded(guarded(text)) == text


@pytest.mark.parametrize("text", ["-0.7", "-35", "12", "", "plain", "it's"])
def test_numbers_and_plain_text_are_left_alone(text):
    assert guarded(text) == unguarded(text) == text


def test_no_exported_cell_begins_like_a_formula():
    fill_library()
    for slug in KINDS:
        for line in csv.reader(io.StringIO(exported(slug), newline="")):
            for cell in line:
                assert cell[:1] not in ("=", "+", "@", "\t", "\r")
                assert cell[:1] != "-" or float(cell) < 0


def held():
    """Parts whose numbers say how they were taken, on the part itself, on a row and on a hand."""
    CaseFactory(
        name="a", bore_diameter=27.41, taken={"bore_diameter": {"instrument": "Calliper", "readings": [27.4, 27.42]}}
    )
    dial = DialFactory(name="a")
    dial.feet.filter(angle=235.0).update(taken={"radius": {"instrument": "Picture", "stated": True}})
    HandFactory(
        hand_set=HandSetFactory(hands=False, seconds=False), role="hour", taken={"length": {"instrument": "Loupe"}}
    )


@pytest.mark.parametrize("slug", ["cases", "dials", "hand-sets"])
def test_how_numbers_were_taken_goes_out_and_comes_in_again(slug):
    held()
    text = exported(slug)
    for kind in reversed(KINDS.values()):
        kind.model.objects.all().delete()
    imported(slug, text)
    assert exported(slug) == text
    if slug == "cases":
        assert Case.objects.get().taken == {"bore_diameter": {"instrument": "Calliper", "readings": [27.4, 27.42]}}
    if slug == "dials":
        assert [foot.taken for foot in Dial.objects.get().feet.all()] == [
            {},
            {"radius": {"instrument": "Picture", "stated": True}},
        ]


def test_a_number_that_was_changed_in_the_file_leaves_its_readings_behind():
    held()
    text = exported("cases").replace("27.41 ±0.02", "27.50 ±0.02")
    Case.objects.all().delete()
    imported("cases", text)
    case = Case.objects.get()
    assert (case.bore_diameter, case.taken) == (27.5, {})


@pytest.mark.parametrize(
    "cell",
    ["x", "[]", "3", '{"part": 3}', '{"part": {"bore_diameter": {"of": 27, "readings": ["x"]}}}', "[" * 5000],
)
def test_a_cell_that_no_export_wrote_is_refused_or_left(cell):
    out = io.StringIO()
    csv.writer(out).writerows([["name", "bore diameter", "taken"], ["a", "27", cell]])
    ((row, column, _, reason),) = faults("cases", out.getvalue())
    assert (row, column) == (2, "taken")
    assert "This was not written by an export." in reason


def test_what_a_part_costs_stands_only_in_the_file_of_who_sees_money():
    CrownFactory(cost="12.50", supplier="Tern Supplies")
    kind = KINDS["crowns"]
    assert "cost" not in exported("crowns")
    text = files.export(kind=kind, records=find(kind=kind), sees_money=True)
    assert "12.50" in text
    with pytest.raises(files.CsvError, match="no crown column “cost”"):
        files.keep(kind=kind, name="x.csv", data=text.encode())
    file = files.keep(kind=kind, name="x.csv", data=text.encode(), sees_money=True)
    assert files.import_all(kind=kind, file=file, sees_money=True) == 1
    assert files.export(kind=kind, records=find(kind=kind), sees_money=True).count("12.50") == 2
    (fault,) = files.check(kind=kind, text="name,cost\na,much\n", sees_money=True).faults
    assert fault.reason == "Write an amount such as 12.50, or leave it blank."
