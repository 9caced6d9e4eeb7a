"""An invoice's lines without tax add up to the sums that were agreed."""

from decimal import Decimal as D

import pytest
from hypothesis import given
from hypothesis import strategies as st

from jobs.money.sums import Amount
from jobs.money.without_tax import shared, without_tax

PRICES = st.decimals(0, 9999, places=2)
LINES = st.lists(st.builds(Amount, PRICES, st.sampled_from([D(0), D("5.5"), D(19), D(20)])), min_size=1, max_size=12)


@pytest.mark.parametrize(
    ("amount", "weights", "parts"),
    [
        (D("10.00"), [D(1), D(1), D(1)], [D("3.33"), D("3.34"), D("3.33")]),
        (D("0.05"), [D(1)] * 6, [D("0.01"), D("0.01"), D("0.01"), D(0), D("0.01"), D("0.01")]),
        (D(0), [D(0), D(0)], [D(0), D(0)]),
    ],
)
def test_an_amount_is_shared_to_the_coin(amount, weights, parts):
    assert shared(amount, weights, "EUR") == parts


@given(LINES, st.booleans(), st.booleans(), st.decimals(0, 100, places=2))
def test_lines_less_discount_are_what_the_tax_is_reckoned_on(amounts, inclusive, by_line, discount):
    terms = {"currency": "EUR", "inclusive": inclusive, "by_line": by_line, "discount_percent": discount}
    apart = without_tax(amounts, **terms)
    for tax in apart.sums.taxes:
        lines = [net for net, amount in zip(apart.lines, amounts, strict=True) if amount.tax_rate == tax.rate]
        assert sum(lines) - apart.discounts[tax.rate] == tax.net
    assert sum(apart.lines) - sum(apart.discounts.values()) == apart.sums.net
    assert apart.sums.net + apart.sums.tax == apart.sums.total
    assert all(net >= 0 for net in apart.lines)
    if not inclusive:
        assert apart.lines == [amount.price for amount in amounts]
