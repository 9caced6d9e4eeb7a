"""Sums of money against hand-worked examples."""

from decimal import Decimal as D

import pytest

from jobs.money.sums import Amount, coin, part_price, rounded, shown, totals, work_price


def amounts(*rows):
    return [Amount(D(price), D(rate)) for price, rate in rows]


def test_tax_on_top_by_rate():
    sums = totals(amounts(("100.00", 19), ("50.00", 7)), currency="EUR", inclusive=False)
    assert (sums.net, sums.tax, sums.total) == (D("150.00"), D("22.50"), D("172.50"))
    assert [(line.rate, line.net, line.tax) for line in sums.taxes] == [(7, D(50), D("3.50")), (19, D(100), D("19.00"))]


def test_tax_held_in_the_price():
    sums = totals(amounts(("119.00", 19)), currency="EUR", inclusive=True)
    assert (sums.net, sums.tax, sums.total) == (D("100.00"), D("19.00"), D("119.00"))


def test_rounding_line_by_line_differs_from_rounding_the_sum():
    """Three times 0.05 at 10 %: 0.005 rounds up to 0.01 each, 0.03 in all; on the sum of 0.15 it is 0.02."""
    rows = amounts(*[("0.05", 10)] * 3)
    assert totals(rows, currency="EUR", inclusive=False, by_line=True).tax == D("0.03")
    assert totals(rows, currency="EUR", inclusive=False, by_line=False).tax == D("0.02")


def test_a_discount_shrinks_the_tax_of_each_rate():
    sums = totals(amounts(("200.00", 20), ("10.01", 0)), currency="EUR", inclusive=False, discount_percent=D(10))
    assert sums.discount == D("21.00")
    assert (sums.net, sums.tax, sums.total) == (D("189.01"), D("36.00"), D("225.01"))


def test_the_deposit_is_of_what_is_to_be_paid():
    sums = totals(amounts(("99.99", 0)), currency="EUR", inclusive=True, deposit_percent=D("33.33"))
    assert sums.deposit == D("33.33")


def test_the_deposit_is_of_the_sum_with_its_tax_and_less_its_discount():
    sums = totals(
        amounts(("100.00", 20)), currency="EUR", inclusive=False, discount_percent=D(10), deposit_percent=D(50)
    )
    assert (sums.total, sums.deposit) == (D("108.00"), D("54.00"))


def test_nothing_sums_to_nothing():
    sums = totals([], currency="EUR", inclusive=True)
    assert (sums.total, sums.taxes) == (D(0), ())


@pytest.mark.parametrize(("currency", "smallest"), [("EUR", "0.01"), ("JPY", "1"), ("KWD", "0.001")])
def test_each_currency_has_its_smallest_coin(currency, smallest):
    assert coin(currency) == D(smallest)


@pytest.mark.parametrize(
    ("amount", "kept"), [("0.005", "0.01"), ("0.0049", "0.00"), ("1.015", "1.02"), ("-0.005", "-0.01")]
)
def test_half_a_coin_rounds_away_from_nothing(amount, kept):
    assert rounded(D(amount), "EUR") == D(kept)


def test_work_and_parts_are_priced_by_the_shops_rates():
    assert work_price(25, D(72), "EUR") == D("30.00")
    assert work_price(10, D("61.00"), "EUR") == D("10.17")
    assert part_price(D("12.50"), D(30), "EUR") == D("16.25")


def test_amounts_are_shown_with_their_sign():
    assert shown(D("1234.5"), "EUR") == "€1,234.50"
    assert shown(D(1200), "JPY") == "JP¥1,200"
    assert shown(None, "EUR") == "no price yet"


def test_what_is_below_the_smallest_coin_is_rounded_line_by_line_and_is_no_discount():
    sums = totals([Amount(D("10.50"), D(0))] * 3, currency="JPY", inclusive=True)
    assert (sums.lines, sums.discount, sums.total) == (33, 0, 33)
    assert shown(D("0.125"), "EUR") == "€0.13"
