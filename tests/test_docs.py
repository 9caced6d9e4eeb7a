"""Holds the documents to the code: the fit model's keys, rules and sections, and every path that a text names."""

import re
from copy import deepcopy
from pathlib import Path

import pytest

from parts.fit.check import CHECKS, PARTS, check, laid_out
from parts.fit.rules import RULES
from parts.fit.sheet import read_sheet
from tests.fit.constructions.sheets import DAY, FRONT, SMALL, SPLIT
from tests.fit.sheets import sheet

ROOT = Path(__file__).resolve().parent.parent
FIT_MODEL = (ROOT / "docs" / "fit-model.md").read_text()
CHECK_VALUES = (ROOT / "docs" / "check-values.md").read_text()
TEXTS = [ROOT / name for name in ("README.md", "DEVELOPERS.md")] + sorted((ROOT / "docs").glob("*.md"))
CODE = [path for room in ("parts", "jobs", "workshop", "tests") for path in sorted((ROOT / room).rglob("*.py"))]
ROOMS = ("parts", "jobs", "workshop", "tests", "templates", "static", "docs")


SHEETS = (
    {},
    {"dial.feet": []},
    {"case.dial_seat_diameter": 28.4, "case.stem_axis_depth": 2.3, "case.seat_wall": 0.3, "case.back_depth": 9.0},
    FRONT,
    SPLIT | SMALL | DAY,
)
"""A complete pairing, one whose feet do not hold the dial, one whose dial is reduced and on a spacer, and others."""


def keys_of_all_checks() -> set[str]:
    """The keys of the checks that these sheets have between them."""
    found = set()
    for changes in SHEETS:
        pairing = read_sheet(sheet(deepcopy(changes)))
        found |= {item.key for item in check(*pairing).checks}
    return found


def sections(text: str) -> set[str]:
    return set(re.findall(r"^#+ (\d+)\w?\. ", text, re.MULTILINE))


def cited(document: str, source: str) -> list[str]:
    """The numbers of the sections of a document that a source names."""
    spread = " ".join(source.split())
    numbers = re.findall(rf"{document},? sections? ((?:\d+(?:, | and )?)+)", spread)
    return [number for group in numbers for number in re.findall(r"\d+", group)]


def paths_in(text: str) -> list[str]:
    """What stands in backticks and begins with a room."""
    return [word.rstrip("/") for word in re.findall(rf"`((?:{'|'.join(ROOMS)})(?:/[\w.-]+)*/?)`", text)]


def test_the_sheets_run_every_function_of_the_list():
    yielding = set()
    for changes in SHEETS:
        records = read_sheet(sheet(deepcopy(changes)))
        p = laid_out(*records, "front")
        yielding.update(function for _, functions in CHECKS for function in functions if list(function(p)))
    assert yielding == {function for _, functions in CHECKS for function in functions}
    assert len(PARTS) == 10


@pytest.mark.parametrize("key", sorted(keys_of_all_checks()))
def test_every_check_stands_in_the_fit_model(key):
    assert f"`{key}`" in FIT_MODEL


def test_the_fit_model_names_no_check_that_is_not_there():
    table = FIT_MODEL[FIT_MODEL.index("| key | value | bands |") : FIT_MODEL.index("The bench rules, as")]
    first_cells = [line.split("|")[1] for line in table.splitlines() if line.startswith("| `")]
    assert set(re.findall(r"`([\w-]+)`", " ".join(first_cells))) == keys_of_all_checks()


@pytest.mark.parametrize("name", RULES)
def test_every_bench_rule_stands_in_the_fit_model_with_its_default_and_reason(name):
    rule = RULES[name]
    told = f"{rule.metadata['label']}: {rule.metadata['reason']}"
    assert f"| `{name}` | {rule.default:g} {rule.metadata['unit']} | {told} |" in FIT_MODEL


def test_every_section_that_the_code_names_is_there():
    named = {number for path in CODE for number in cited("fit model", path.read_text())}
    assert len(named) >= 10
    assert named <= sections(FIT_MODEL)
    values = {number for path in CODE for number in cited("check values", path.read_text())}
    values |= set(cited("check values", FIT_MODEL))
    assert values
    assert values <= sections(CHECK_VALUES)


@pytest.mark.parametrize(
    ("source", "numbers"),
    [
        ("Source: fit model section 5.", ["5"]),
        ("Source: fit model sections 3, 4, 9 and 10. To", ["3", "4", "9", "10"]),
        ("as in fit model\nsection 12;", ["12"]),
        ("(check values, section 12: nothing", []),
    ],
)
def test_the_scan_finds_the_sections_named(source, numbers):
    assert cited("fit model", source) == numbers


@pytest.mark.parametrize("path", TEXTS, ids=lambda path: path.name)
def test_every_path_that_a_text_names_is_there(path):
    assert [name for name in paths_in(path.read_text()) if not (ROOT / name).exists()] == []


def test_every_path_that_the_code_names_is_there():
    missing = {
        f"{path.relative_to(ROOT)}: {name}"
        for path in CODE
        for name in paths_in(path.read_text())
        if not (ROOT / name).exists()
    }
    assert missing == set()
    assert len(paths_in((ROOT / "DEVELOPERS.md").read_text())) > 40


def test_the_scan_finds_paths_and_nothing_else():
    assert paths_in("`parts/fit/rules.py`, `jobs/past/` and `make test`, `parts`, partsx") == [
        "parts/fit/rules.py",
        "jobs/past",
        "parts",
    ]
