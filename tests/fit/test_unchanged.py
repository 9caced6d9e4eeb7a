"""Sheets without the keys of other constructions answer as they did before those keys were there, to the last digit.

The digests stand in `unchanged.txt`, one a sheet. A change of the model that is meant changes them too: then
`.venv/bin/python -m tests.fit.test_unchanged` writes them anew, and its commit says why.
"""

import hashlib
import json
import random
from pathlib import Path

from parts.fit import check_sheet
from tests.fit.invented import add_optional, measured, pairings, without_each
from tests.fit.sheets import sheet

DIGESTS = Path(__file__).with_name("unchanged.txt")
DECIMALS = 12
"""Of a number in a digest: a library's sine may differ in the last bit from one machine to another."""


def sheets():
    """The base sheet with each number taken away, and invented pairings, exact and as a calliper tells them."""
    chance = random.Random(11)
    yield sheet()
    yield from (less for _, less in without_each(sheet()))
    for data in pairings(40, seed=11, more=add_optional):
        yield data
        yield measured(data, chance)
        yield {part: value for part, value in data.items() if part not in ("stem", "crown")}
        for placement in ("front", "rear"):
            yield data | {"spacer": {"placement": placement}}


def digest(data):
    answer = check_sheet(data).as_dict()
    del answer["rules"]  # a new bench rule changes no answer that does not use it
    return hashlib.sha256(json.dumps(_rounded(answer)).encode()).hexdigest()[:16]


def _rounded(node):
    if isinstance(node, dict):
        return {name: _rounded(value) for name, value in node.items()}
    if isinstance(node, list):
        return [_rounded(item) for item in node]
    return round(node, DECIMALS) + 0.0 if isinstance(node, float) else node


def test_reports_of_sheets_without_other_constructions_stay_as_they_were():
    assert [digest(data) for data in sheets()] == DIGESTS.read_text().split()


if __name__ == "__main__":
    DIGESTS.write_text("".join(f"{digest(data)}\n" for data in sheets()))
