"""Other constructions in columns: every row has the verdict of its single check."""

import pytest

from tests.fit.constructions.sheets import ALL
from tests.fit.sheets import sheet
from tests.fit.test_columns import agreed, each_many_times

PARTS = ("case", "dial", "movement", "hands", "stem")


@each_many_times
@pytest.mark.parametrize("part", PARTS)
@pytest.mark.parametrize("name", ALL)
def test_every_row_agrees_with_the_single_check(name, part, rows, seen):
    assert len(agreed(part, sheet(ALL[name]), f"{name} {part}", rows)) >= seen - 5
