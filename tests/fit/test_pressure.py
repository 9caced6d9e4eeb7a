"""The case under pressure: what is said, what it rests on, and that nothing else changes."""

import pytest

from parts.fit import check_sheet
from parts.fit.answer.text import report_text
from parts.fit.arithmetic.quantities import measured
from parts.fit.check import check
from parts.fit.pressure import under_pressure
from parts.fit.pressure.plate import gives_way
from parts.fit.records.materials import CRYSTALS
from parts.fit.sheet import read_sheet
from tests.fit.sheets import sheet

CRYSTAL = {"stated_pressure": 3.0, "crystal_material": "mineral", "crystal_thickness": 1.5, "crystal_span": 27.4}
BACK = {"stated_pressure": 3.0, "back_material": "steel", "back_thickness": 0.8, "back_span": 28.0}


def said(**case):
    data = sheet()
    data["case"] |= case
    return {item.key: item for item in under_pressure(check(*read_sheet(data)).pairing)}


def test_nothing_is_said_of_a_case_without_these_numbers():
    assert said() == {}


def test_a_report_decides_as_before_whatever_the_pressure_does():
    data = sheet()
    data["case"] |= CRYSTAL | BACK | {"stated_pressure": 200.0}
    before, after = check_sheet(sheet()), check_sheet(data)
    assert (after.verdict, len(after.checks)) == (before.verdict, len(before.checks))


def test_what_is_left_is_the_gap_less_what_the_plate_gives_way_where_it_rests():
    findings = said(**CRYSTAL | BACK)
    crystal, back = findings["pressure-crystal"], findings["pressure-back"]
    report = check_sheet(sheet())
    bends = findings["pressure-crystal-bends"].value.value
    assert bends == pytest.approx(0.0342, abs=0.0001)
    assert crystal.value.value == pytest.approx(report["gap-crystal"].value.value - bends)
    gives = findings["pressure-back-bends"].value.value
    assert back.value.value == pytest.approx(report["back-gap"].value.value - gives)
    assert not any(item.must for item in findings.values())


def test_half_the_thickness_is_where_the_formula_ends():
    assert said(**CRYSTAL | {"crystal_thickness": 0.3})["pressure-crystal-bends"].verdict == "work"
    assert said(**CRYSTAL)["pressure-crystal-bends"].verdict == "fits"


def test_what_is_missing_is_asked_for_by_name():
    item = said(crystal_thickness=1.5, crystal_material="mineral")["pressure-crystal-bends"]
    assert item.missing == ("case.stated_pressure", "case.crystal_span")
    assert "crystal material" in said(crystal_thickness=1.5)["pressure-crystal-bends"].sentence


@pytest.mark.parametrize(("name", "step"), [("bar", 1e-6), ("across", 1e-6), ("thick", 1e-6)])
def test_uncertainties_follow_the_slopes(name, step):
    at = {"bar": 3.0, "across": 27.4, "thick": 1.5}

    def bend(numbers):
        return gives_way(*(measured(key, value, 1.0) for key, value in numbers.items()), CRYSTALS["acrylic"])

    slope = (bend(at | {name: at[name] + step}).value - bend(at).value) / step
    assert bend(at).spread[name] == pytest.approx(slope, rel=1e-4)


@pytest.mark.parametrize(
    ("depth", "verdict"), [(1.61, "work"), (1.60, "fits"), (1.50, "fits"), (1.40, "fits"), (1.39, "work")]
)
def test_squeeze_of_a_2_mm_cord(depth, verdict):
    item = said(gasket_section=2.0, groove_depth=depth)["gasket-squeeze"]
    assert item.value.value == pytest.approx((2 - depth) / 2)
    assert item.verdict == verdict


def test_fill_and_stretch():
    groove = {"gasket_section": 2.0, "groove_depth": 1.5, "gasket_diameter": 30.0}
    findings = said(**groove, groove_width=2.8, groove_diameter=31.0)
    assert findings["gasket-fill"].value.value == pytest.approx(3.14159265 / 4.2)
    assert findings["gasket-fill"].verdict == findings["gasket-stretch"].verdict == "fits"
    assert findings["gasket-stretch"].value.value == pytest.approx(1 / 30)
    findings = said(**groove, groove_width=2.4, groove_diameter=29.9)
    assert findings["gasket-fill"].verdict == findings["gasket-stretch"].verdict == "work"


def test_the_answer_has_it_only_where_something_was_measured():
    assert "under_pressure" not in check_sheet(sheet()).as_dict()
    data = sheet()
    data["case"] |= CRYSTAL
    assert "Under pressure" in report_text(check_sheet(data))
    assert "Under pressure" not in report_text(check_sheet(sheet()))
    keys = [item["key"] for item in check_sheet(data).as_dict()["under_pressure"]]
    assert keys == ["pressure-crystal-bends", "pressure-crystal"]
