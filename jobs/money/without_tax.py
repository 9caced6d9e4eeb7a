"""What an invoice tells beside the sums: each line without tax, and what a discount takes off each rate.

EN 16931 adds an invoice up from the lines without tax, less the discount of each rate, to what each tax is reckoned on.
Prices that hold their tax are taken apart so that all of it adds up to the sums that were agreed, to the coin.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal
from itertools import accumulate, pairwise
from typing import Any

from jobs.money.sums import ZERO, Amount, Totals, rounded, totals


@dataclass(frozen=True, slots=True)
class WithoutTax:
    """`lines` without tax in their order; `discounts` by tax rate in percent; `sums` are those agreed."""

    lines: list[Decimal]
    discounts: dict[Decimal, Decimal]
    sums: Totals


def without_tax(
    amounts: Sequence[Amount], *, currency: str, inclusive: bool, discount_percent: Decimal, by_line: bool
) -> WithoutTax:
    """Take the agreed prices apart. Every rate's lines less its discount are what `totals` reckons its tax on."""
    terms: dict[str, Any] = {"currency": currency, "inclusive": inclusive, "by_line": by_line}
    full, agreed = totals(amounts, **terms), totals(amounts, discount_percent=discount_percent, **terms)
    lines = [ZERO] * len(amounts)
    for tax in full.taxes:
        places = [i for i, amount in enumerate(amounts) if amount.tax_rate == tax.rate]
        for place, net in zip(places, shared(tax.net, [amounts[i].price for i in places], currency), strict=True):
            lines[place] = net
    discounts = {before.rate: before.net - after.net for before, after in zip(full.taxes, agreed.taxes, strict=True)}
    return WithoutTax(lines, discounts, agreed)


def shared(amount: Decimal, weights: Sequence[Decimal], currency: str) -> list[Decimal]:
    """The amount in parts by their weights, each to the coin; together they are the amount."""
    whole = sum(weights, ZERO)
    if not whole:
        return [ZERO] * len(weights)
    marks = [rounded(amount * mark / whole, currency) for mark in accumulate(weights, initial=ZERO)]
    return [after - before for before, after in pairwise(marks)]
