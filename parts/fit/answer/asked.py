"""What findings ask for, each thing once: one trim of the dial serves the two checks that ask for it."""

from collections.abc import Iterable, Iterator

from parts.fit.arithmetic.elementwise import Truth, negation
from parts.fit.bands import Remedy
from parts.fit.columns import Column
from parts.fit.verdicts import Finding


def asked_once(findings: Iterable[Finding]) -> Iterator[tuple[Finding, Remedy, Truth]]:
    """Each remedy as (the check that asks for it, remedy, whether no check before it does: a truth, or one a row).

    The blanks in a column's remedy are not filled in: different things must differ in the words round them.
    """
    asked: dict[Remedy, Truth] = {}
    for item in findings:
        remedies = item.remedies if isinstance(item, Column) else dict.fromkeys(item.remedies, True)
        for remedy, where in remedies.items():
            before = asked.get(remedy, False)
            yield item, remedy, where if before is False else where & negation(before)
            asked[remedy] = where if before is False else before | where
