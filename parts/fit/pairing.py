"""What the checks look at: one pairing's parts, its levels, the seats of its hands, and where its date stands.

Source: fit model sections 1, 5, 6 and 9. Plain data; `parts.fit.check` fills it.
"""

from dataclasses import dataclass
from math import inf
from typing import TypeAlias

from parts.fit.arithmetic.elementwise import Number, Truth, pick
from parts.fit.arithmetic.quantities import Quantity
from parts.fit.records import Case, Crown, Dial, HandSet, Movement, Sheet, Stem
from parts.fit.rules import Rules

Under: TypeAlias = tuple[tuple[str, Quantity, Truth], ...]


@dataclass(frozen=True, slots=True)
class Stack:
    """The pairing's levels for one placement of the spacer."""

    placement: str
    front: Quantity
    rear: Quantity
    dial_rest: Quantity
    face: Quantity

    @property
    def thickness(self) -> Number | None:
        """Thickness of the spacer to make, 0 for none, None where it cannot be told."""
        total = self.front + self.rear
        return total.value if total.known else None


@dataclass(frozen=True, slots=True)
class Seat:
    """One hand on its post: its lift above flush, where its parts stand above the dial rest, what is over and under it.

    `room` is the space from the dial seat to the crystal where the hand sweeps; `under` the furniture that it passes
    over, as (name, height, whether it does), the last a column where many hands are looked at.
    """

    name: str
    lift: Number
    top: Quantity
    hub_bottom: Quantity
    blade_bottom: Quantity
    room: Quantity
    under: Under

    def over_furniture(self, face: Quantity) -> list[tuple[str, Quantity]]:
        """The gaps between blade and furniture, as (name, gap); without bound where the hand does not pass over it."""
        free = Quantity(inf)
        return [(name, pick(passes, self.blade_bottom - face - height, free)) for name, height, passes in self.under]


@dataclass(frozen=True, slots=True)
class Seating:
    """All hands of the watch set at `gap`; gap is None where no lift could be worked out, and `why` says it."""

    seats: dict[str, Seat]
    gap: Number | None
    why: str = ""


@dataclass(frozen=True, slots=True)
class DateView:
    """Where the numerals stand in the window: `steps` k from the place the maker meant, `offset` eps in degrees."""

    steps: Number
    offset: Number
    numeral_radius: Number
    numeral_radial: Number
    numeral_tangential: Number
    window_radius: Number
    window_radial: Number
    window_tangential: Number

    @property
    def measures(self) -> tuple[Number, ...]:
        return (
            self.offset,
            self.numeral_radius,
            self.numeral_radial,
            self.numeral_tangential,
            self.window_radius,
            self.window_radial,
            self.window_tangential,
        )


class Pairing:
    """What a check looks at: the sheet's parts, the bench rules, the stack of levels, the hands' seats, the date."""

    __slots__ = (
        "case",
        "crown",
        "date",
        "dial",
        "hands",
        "movement",
        "rules",
        "seating",
        "sheet",
        "stack",
        "stem",
    )
    sheet: Sheet
    case: Case
    dial: Dial
    movement: Movement
    hands: HandSet
    stem: Stem
    crown: Crown
    rules: Rules
    stack: Stack
    seating: Seating
    date: DateView | None

    def __init__(self, sheet: Sheet, rules: Rules) -> None:
        self.sheet, self.rules = sheet, rules
        for name in ("case", "dial", "movement", "hands", "stem", "crown"):
            setattr(self, name, getattr(sheet, name))
