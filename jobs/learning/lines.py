"""A line for each bench rule: how often it was right, what would have been right, and what a change would change."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING

from jobs.learning.limits import Limit, limit_of
from jobs.learning.outcomes import outcomes_by_rule
from parts.fit.rules import RULES, read_rules
from parts.fit.units import with_unit
from parts.pairings.worksheet import rule_words
from parts.rules.edges import EDGES
from parts.rules.shop import shop_rules

if TYPE_CHECKING:
    from jobs.learning.outcomes import CheckOutcome

FEWEST = 10
"""Outcomes before a limit is proposed."""


@dataclass(frozen=True, slots=True)
class Change:
    """A past check that another limit would have called otherwise."""

    number: str
    was: str
    would_be: str
    at_bench: str

    @property
    def is_better(self) -> bool:
        """Whether it would have said what the bench said."""
        return self.would_be == self.at_bench


@dataclass(frozen=True)
class Line:
    """A bench rule with what the bench said; lengths in the rule's own unit."""

    name: str
    words: str
    unit: str
    now: float
    outcomes: list[CheckOutcome]
    limit: Limit | None

    @property
    def count(self) -> int:
        return len(self.outcomes)

    @property
    def right(self) -> int:
        """How often the bench said what the report had said."""
        return sum(each.said == each.at_bench for each in self.outcomes)

    @property
    def is_enough(self) -> bool:
        """Whether so much was said that a limit is told."""
        return self.count >= FEWEST

    @cached_property
    def proposal(self) -> float | None:
        """Another limit, to the hundredth, where it would have been right more often.

        None before ten outcomes, and where the rule as it is lies within the range that they leave.
        """
        if self.limit is None or not self.is_enough or self.limit.low <= self.now <= self.limit.high:
            return None
        other = round(self.limit.value, 2)
        changes = self._changes_to(other)
        return other if 2 * sum(change.is_better for change in changes) > len(changes) else None

    @cached_property
    def changes(self) -> list[Change]:
        """What the proposal would have changed: checks that fitted and would not have, or the other way round."""
        return [] if self.proposal is None else self._changes_to(self.proposal)

    def _changes_to(self, limit: float) -> list[Change]:
        edge, words = EDGES[self.name], {True: "fits", False: "work"}
        sides = [(each, each.fits_by(self.now, edge), each.fits_by(limit, edge)) for each in self.outcomes]
        return [Change(each.number, words[now], words[then], each.at_bench) for each, now, then in sides if now != then]

    @property
    def for_the_better(self) -> int:
        """How many of the changes say what the bench said."""
        return sum(change.is_better for change in self.changes)

    @property
    def in_words(self) -> dict[str, str]:
        """The numbers with their unit: `now`, `limit` with `low` and `high`, `proposal`."""
        numbers = {"now": self.now, "proposal": self.proposal}
        numbers |= {"limit": self.limit.value, "low": self.limit.low, "high": self.limit.high} if self.limit else {}
        return {name: with_unit(number, self.unit) for name, number in numbers.items() if number is not None}


def lines() -> list[Line]:
    """A line for each rule that the bench said something of: proposals first, then by how much was said."""
    outcomes, rules = outcomes_by_rule(), read_rules(shop_rules())
    made = [_line(name, outcomes[name], getattr(rules, name)) for name in EDGES if outcomes.get(name)]
    return sorted(made, key=lambda line: (line.proposal is None, -line.count))


def _line(name, outcomes, now):
    edge, limit = EDGES[name], None
    if len(outcomes) >= FEWEST:
        ends = [each.deciding(edge) for each in outcomes]
        limit = limit_of(ends, [each.went_well for each in outcomes], fits_above=edge.fits_above)
    return Line(name, rule_words(name), RULES[name].metadata["unit"], now, outcomes, limit)
