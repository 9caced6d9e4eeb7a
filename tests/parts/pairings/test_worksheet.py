"""The numbers of a pairing as rows: stored, typed in place, and not measured."""

import pytest

from parts.pairings.what_if import with_changes
from parts.pairings.worksheet import open_rows, part_rows, typed_changes
from parts.sheets import sheet_of
from tests.factories import CaseFactory, PairingFactory

pytestmark = pytest.mark.django_db


def test_a_row_has_what_is_stored_where_it_is_from_and_what_was_typed():
    pairing = PairingFactory(case=CaseFactory(back_depth=None))
    told = {"case.bore_diameter": "measured"}
    faults = {"case.back_depth": "too deep"}
    groups = part_rows(pairing, sources=told, changes={"case.back_depth": "4.10"}, faults=faults)
    assert [(group.part, group.kind, group.pk, group.typed) for group in groups] == [
        ("case", "cases", pairing.case_id, True),
        ("dial", "dials", pairing.dial_id, False),
        ("movement", "movements", pairing.movement_id, False),
        ("hand set", "hand-sets", pairing.hands_id, False),
        ("stem", "stems", pairing.stem_id, False),
        ("crown", "crowns", pairing.crown_id, False),
    ]
    rows = {row.path: (row.stored, row.source, row.typed, row.fault) for group in groups for row in group.rows}
    assert rows["case.bore_diameter"] == ("26.20 ±0.02 mm", "measured", "", "")
    assert rows["case.back_depth"] == ("", "", "4.10", "too deep")
    assert rows["dial.feet[1].radius"] == ("11.00 mm", "", "", "")
    assert "dial.feet[2].radius" not in rows
    assert not [path for path in rows if path.startswith("dial.window")]


def test_the_rows_of_a_part_not_chosen_are_empty():
    rows = {row.path: row for row in open_rows("stem", changes={"stem.length": "11"}, faults={})}
    assert {"stem.length", "stem.thread"} <= rows.keys()
    assert {(row.stored, row.source) for row in rows.values()} == {("", "")}
    assert (rows["stem.length"].typed, rows["stem.length"].field) == ("11", "what-if:stem.length")


def test_only_what_if_numbers_that_were_typed_are_changes():
    data = {"what-if:case.back_depth": " 4.10 ", "what-if:case.bore_diameter": "  ", "name": "Grey"}
    assert typed_changes(data) == {"case.back_depth": "4.10"}


def test_a_rule_left_blank_stays_and_a_number_left_blank_is_not_known():
    sheet = sheet_of(PairingFactory())
    changed, faults = with_changes(sheet, {"rules.gap_min": "", "case.back_depth": "", "rules.gap_touch": "0.04"})
    assert faults == {}
    assert changed["case"]["back_depth"] is None
    assert changed["rules"].get("gap_min") == sheet.get("rules", {}).get("gap_min")
    assert changed["rules"]["gap_touch"] == 0.04
