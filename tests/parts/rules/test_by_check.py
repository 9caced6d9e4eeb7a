"""The bench rules named beside a check are just those that its verdict hangs on."""

import pytest

from parts.fit import check_sheet
from parts.fit.rules import RULES
from parts.rules.by_check import RULES_OF
from parts.rules.remedy_minutes import remedy_minutes
from tests.fit.sheets import sheet


def test_every_rule_that_is_named_is_one():
    assert {name for names in RULES_OF.values() for name in names} <= RULES.keys()


def test_every_check_of_a_complete_pairing_is_there_or_has_no_rule():
    keys = {check.key for check in check_sheet(sheet()).checks}
    decided_by_the_parts = {"date-present", "unbalance-hour", "unbalance-minute", "unbalance-seconds"}
    assert keys - RULES_OF.keys() <= decided_by_the_parts
    assert RULES_OF.keys() <= keys | {"reach-hour", "reach-minute", "pad-room", "dial-trim", "dial-held"}


@pytest.mark.parametrize("key", ["holder-wall", "dial-opening", "tip-clearance", "cell-life", "dial-furniture"])
def test_its_rules_change_what_the_check_says(key):
    data = sheet()
    before = {check.key: check for check in check_sheet(data).checks}[key]
    for name in RULES_OF[key]:
        rules = {name: RULES[name].default * 1.01 + 0.001}
        after = {check.key: check for check in check_sheet(data | {"rules": rules}).checks}[key]
        same = [(b.low, b.high) for b in after.bands] == [(b.low, b.high) for b in before.bands]
        assert not same or after.value.value != before.value.value or after.value.half_width != before.value.half_width


def test_what_a_remedy_takes_beyond_the_standing_work():
    minutes = {}
    for check in check_sheet(sheet()).checks:
        minutes.setdefault(remedy_minutes(check.key), set()).add(check.key)
    assert minutes[0] == {
        *("stem-length", "stem-height", "holder-wall"),
        *("gap-hour-dial", "gap-hour-minute", "gap-minute-seconds", "gap-furniture", "gap-crystal"),
    }
    assert {key: remedy_minutes(key) for key in ("dial-seat", "centre-hole", "dial-feet", "back-gap", "pad-room")} == {
        "dial-seat": 25,
        "centre-hole": 15,
        "dial-feet": 30,
        "back-gap": 30,
        "pad-room": 5,
    }
    assert {"post-hour", "post-minute", "post-seconds", "tip-clearance"} <= minutes[10]
