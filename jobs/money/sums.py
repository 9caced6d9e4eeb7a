"""Sums of money: lines, discount, tax and totals, all in Decimal.

Every amount that is shown is rounded to the currency's smallest coin, half up, as on a till. Tax is either reckoned and
rounded line by line, or once for each rate on the sum of its lines; the two may differ by a few coins, and a shop
keeps to one of them.
"""

from collections.abc import Iterable
from dataclasses import dataclass
from decimal import ROUND_HALF_UP, Decimal

from babel.numbers import format_currency, get_currency_precision
from django.utils.translation import gettext

from jobs.language.formats import locale_code

ZERO = Decimal(0)
HUNDRED = Decimal(100)
MOST_MONEY = Decimal("9999999.99")
"""The largest amount of one line."""


def coin(currency):
    """The smallest amount of a currency, such as 0.01; from the Unicode currency data."""
    return Decimal(1).scaleb(-get_currency_precision(currency))


def rounded(amount, currency):
    """An amount to the smallest coin, half up."""
    return amount.quantize(coin(currency), rounding=ROUND_HALF_UP)


def shown(amount, currency):
    """An amount with its currency sign in the language that is spoken now: €1,234.50; "no price yet" for None."""
    if amount is None:
        return gettext("no price yet")
    return format_currency(rounded(amount, currency), currency, locale=locale_code())


@dataclass(frozen=True, slots=True)
class Amount:
    """One line's money: `price` as it is quoted (with tax or without), its tax rate in percent."""

    price: Decimal
    tax_rate: Decimal


@dataclass(frozen=True, slots=True)
class TaxLine:
    """One tax rate: the net sum that it is reckoned on, and the tax."""

    rate: Decimal
    net: Decimal
    tax: Decimal


@dataclass(frozen=True, slots=True)
class Totals:
    """A quote's sums: `lines` as quoted, less `discount`, tax by rate, what is to be paid, and the deposit of it."""

    lines: Decimal
    discount: Decimal
    net: Decimal
    taxes: tuple
    tax: Decimal
    total: Decimal
    deposit: Decimal


def totals(
    amounts: Iterable[Amount],
    *,
    currency: str,
    inclusive: bool,
    discount_percent: Decimal = ZERO,
    deposit_percent: Decimal = ZERO,
    by_line: bool = False,
) -> Totals:
    """The Totals of quoted amounts; `inclusive` prices hold their tax already, `by_line` rounds the tax of each line.

    A discount takes the same share off every line, so that each rate's tax shrinks with it.
    """
    amounts = [Amount(rounded(amount.price, currency), amount.tax_rate) for amount in amounts]
    lines = sum((amount.price for amount in amounts), ZERO)
    share = (HUNDRED - discount_percent) / HUNDRED
    reduced = [Amount(rounded(amount.price * share, currency), amount.tax_rate) for amount in amounts]
    taxes = tuple(
        _tax_line(rate, [amount.price for amount in reduced if amount.tax_rate == rate], currency, inclusive, by_line)
        for rate in sorted({amount.tax_rate for amount in reduced})
    )
    after = sum((amount.price for amount in reduced), ZERO)
    tax = sum((tax_line.tax for tax_line in taxes), ZERO)
    net, total = (after - tax, after) if inclusive else (after, after + tax)
    deposit = rounded(total * deposit_percent / HUNDRED, currency)
    return Totals(lines, lines - after, net, taxes, tax, total, deposit)


def _tax_line(rate, prices, currency, inclusive, by_line):
    bases = prices if by_line else [sum(prices, ZERO)]
    share = rate / (HUNDRED + rate) if inclusive else rate / HUNDRED
    tax = sum((rounded(base * share, currency) for base in bases), ZERO)
    whole = sum(prices, ZERO)
    return TaxLine(rate, whole - tax if inclusive else whole, tax)


def work_price(minutes, rate_per_hour, currency):
    """What minutes of work cost."""
    return rounded(rate_per_hour * Decimal(minutes) / 60, currency)


def part_price(cost, mark_up_percent, currency):
    """What a part costs the customer."""
    return rounded(cost * (HUNDRED + mark_up_percent) / HUNDRED, currency)
