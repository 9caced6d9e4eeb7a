"""What would make a pairing go that does not. Source: fit model section 3."""

from dataclasses import dataclass
from typing import Any

from parts.fit.answer.listing import in_a_sentence
from parts.fit.records import describe
from parts.fit.units import with_unit


@dataclass(frozen=True, slots=True)
class Change:
    """One input changed as little as it has to be: to at least, or to at most, `value`."""

    input: str
    at_least: bool
    value: float

    @property
    def words(self) -> str:
        """As a sentence goes on after "goes with a": "crystal gap at the centre of at least 2.95 mm"."""
        described = describe(self.input)
        unit = described.input.unit if described.input else "mm"
        return f"{described.phrase} of {'at least' if self.at_least else 'at most'} {with_unit(self.value, unit)}"

    def as_dict(self) -> dict[str, Any]:
        return {"input": self.input, "at_least" if self.at_least else "at_most": self.value}


@dataclass(frozen=True, slots=True)
class Way:
    """The changes that together turn a "no": mostly one; `check` is the key of the check that it turns."""

    check: str
    changes: tuple[Change, ...]

    @property
    def words(self) -> str:
        return f"Fits with {in_a_sentence(f'a {change.words}' for change in self.changes)}."

    def as_dict(self) -> dict[str, Any]:
        if len(self.changes) == 1:
            return {"check": self.check} | self.changes[0].as_dict()
        return {"check": self.check, "changes": [change.as_dict() for change in self.changes]}
