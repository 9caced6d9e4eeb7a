"""A quote's options as they are offered: lines in groups, sums with and without extras, and what differs.

Page, paper and the texts that go along read the same `Way`.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from decimal import Decimal
from typing import TYPE_CHECKING

from jobs.models import QuoteLine
from jobs.money.sums import Amount, Totals, totals

if TYPE_CHECKING:
    from jobs.models import Quote, QuotePart


def sums_of_lines(*, quote: Quote, lines: Iterable[QuoteLine]) -> Totals:
    """The totals of some lines on the quote's terms; those without a price are left out."""
    return totals(
        [Amount(line.price, line.tax_rate) for line in lines if line.price is not None],
        currency=quote.currency,
        inclusive=quote.tax_inclusive,
        discount_percent=quote.discount,
        deposit_percent=quote.deposit,
        by_line=quote.tax_by_line,
    )


@dataclass(frozen=True, slots=True)
class Way:
    """One quoted option. `sums` hold every line that was not turned down, `least` leave out all that is optional.

    While `unpriced` lines have no price, neither is a total.
    """

    part: QuotePart
    work: list[QuoteLine]
    parts: list[QuoteLine]
    accept: list[QuoteLine]
    sums: Totals
    least: Totals
    unpriced: int
    extras: list[tuple[QuoteLine, Decimal]]
    """What the customer may take or leave, each with what it adds to `least`, discount and tax included; where tax is
    rounded on the sum, all together may differ from their sum by a coin."""

    @property
    def groups(self) -> list[tuple[str, list[QuoteLine]]]:
        """What costs something, by kind; empty kinds are left out."""
        return [(kind, lines) for kind, lines in (("work", self.work), ("part", self.parts)) if lines]

    @property
    def taxes(self) -> list[tuple[Decimal, Decimal]]:
        """(rate in percent, tax) of each rate that is not 0."""
        return [(tax.rate, tax.tax) for tax in self.sums.taxes if tax.rate]


def way_of(*, quote: Quote, part: QuotePart, lines: Sequence[QuoteLine]) -> Way:
    """The Way of these lines, saved or as they are typed."""
    by_kind = {kind: [line for line in lines if line.kind == kind] for kind in QuoteLine.Kind.values}
    paid = [*by_kind["work"], *by_kind["part"]]
    fixed = [line for line in paid if not line.optional]
    least = sums_of_lines(quote=quote, lines=fixed)
    extras = [line for line in paid if line.optional]
    return Way(
        part=part,
        work=by_kind["work"],
        parts=by_kind["part"],
        accept=[line for line in by_kind["accept"] if line.taken],
        sums=sums_of_lines(quote=quote, lines=[line for line in paid if line.taken]),
        least=least,
        unpriced=sum(line.price is None for line in paid),
        extras=[(line, sums_of_lines(quote=quote, lines=[*fixed, line]).total - least.total) for line in extras],
    )


def ways_of(*, quote: Quote) -> list[Way]:
    """Every option of a saved quote."""
    parts = quote.parts.prefetch_related("lines")
    return [way_of(quote=quote, part=part, lines=list(part.lines.all())) for part in parts]


def what_differs(ways: Sequence[Way]) -> list[tuple[str, list[QuoteLine | None]]]:
    """(words, the line of each option or None) of every line that is not the same in all options."""
    of_way = [{line.text: line for line in (*way.work, *way.parts, *way.accept)} for way in ways]
    texts = list(dict.fromkeys(text for lines in of_way for text in lines))
    rows = [(text, [lines.get(text) for lines in of_way]) for text in texts]
    return [(text, lines) for text, lines in rows if len({_offer(line) for line in lines}) > 1]


def _offer(line):
    return line and (line.kind, line.price, line.optional)
