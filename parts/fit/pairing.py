"""What the checks look at: one pairing's parts, its levels, the seats of its hands, and where its date stands.

Source: fit model sections 1, 5, 6 and 9. Plain data; `parts.fit.check` fills it.
"""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass
from math import inf
from typing import TYPE_CHECKING, NamedTuple, TypeAlias

from parts.fit.arithmetic.elementwise import Number, Truth, pick
from parts.fit.arithmetic.quantities import SLACK, Quantity, unknown
from parts.fit.records import (
    SMALL_HANDS,
    Case,
    Crown,
    Dial,
    HandSet,
    Movement,
    Sheet,
    Stem,
    Subdial,
    SubHand,
    SubPost,
    describe,
)
from parts.fit.rules import Rules

if TYPE_CHECKING:
    from parts.fit.checks.date import Shown

SPACER_LIES = {
    "front": "in front of the dial",
    "rear": "behind the dial",
    "floor": "under the movement",
    "ledge": "under the movement",
}
Under: TypeAlias = tuple[tuple[str, Quantity, Truth], ...]


@dataclass(frozen=True, slots=True)
class Stack:
    """The pairing's levels for one placement of the spacer.

    `placement` is "front" or "rear" of the dial, or "floor" or "ledge" where the spacer can only lie under the
    movement. `front` lies between the dial seat and the dial, `behind` between dial and movement: spacer, pads or both.
    `face` is the dial's face above the dial rest at its edge, `face_at_hub` the same in its middle. `sunk` is the depth
    of the face behind what the crystal is measured from (negative above a floor). `wheel_rise` is how much more the
    hour wheel can rise for what lies behind the dial and no washer takes up. `made` is what is made to measure, true to
    spacer_pm: the spacer, or the rise of a holder that is to be made for the movement.
    """

    placement: str
    spacer: Quantity
    front: Quantity
    behind: Quantity
    dial_rest: Quantity
    face: Quantity
    face_at_hub: Quantity
    sunk: Quantity
    wheel_rise: Quantity
    made: Quantity

    @property
    def thickness(self) -> Number | None:
        """Thickness of the spacer to make, 0 for none, None where it cannot be told."""
        return self.spacer.value if self.spacer.known else None

    @property
    def where(self) -> str:
        """Where the spacer lies, in words."""
        return SPACER_LIES[self.placement]


@dataclass(frozen=True, slots=True)
class Seat:
    """One hand on its post: its lift above flush, where its parts stand above the dial rest, what is over and under.

    `top_above` is the top once the wheel has risen by its end play. `room` is the space from the dial seat to the
    crystal where the hand sweeps; `under` the furniture that its blade passes over and `under_hub` what its hub stands
    over, as (name, height, whether it does), the last a column where many hands are looked at.
    """

    name: str
    lift: Number
    top: Quantity
    top_above: Quantity
    hub_bottom: Quantity
    blade_bottom: Quantity
    room: Quantity
    under: Under
    under_hub: Under

    def over_furniture(self, face: Quantity) -> list[tuple[str, Quantity]]:
        """The gaps over furniture, as (name, gap); without bound where the hand does not pass over it."""
        free = Quantity(inf)
        return [
            (name, pick(passes, bottom - face - height, free))
            for bottom, items in ((self.blade_bottom, self.under), (self.hub_bottom, self.under_hub))
            for name, height, passes in items
        ]


@dataclass(frozen=True, slots=True)
class Seating:
    """All hands of the watch set at `gap`, which lies from `low` to `high` when they are set anew by what is there.

    `binding` is the condition that is least, with the inputs that decide. `bare` is the room over each post that
    carries no hand, with the post's height. What lacks a number set no condition; its inputs are `left_out`, and the
    seating is provisional.
    """

    seats: dict[str, Seat]
    gap: Number
    low: Number
    high: Number
    binding: Quantity
    bare: dict[str, tuple[Quantity, Quantity]]
    left_out: tuple[str, ...]

    @property
    def why(self) -> str:
        """What is to be said of it beyond the heights; empty where they stand as they are."""
        if self.left_out:
            return f"at best, until measured: {', '.join(describe(name).phrase for name in self.left_out)}"
        return "no height keeps the hands clear of each other, dial and crystal" if self.gap < -SLACK else ""


@dataclass(frozen=True, slots=True)
class DateView:
    """Where the numerals stand in the window: `steps` k, of `steps_round` a round, from the place the maker meant.

    `offset` is eps in degrees.
    """

    steps_round: int
    steps: Number
    offset: Number
    numeral_radius: Number
    numeral_radial: Number
    numeral_tangential: Number
    window_radius: Number
    window_radial: Number
    window_tangential: Number

    @property
    def pitch(self) -> float:
        """Degrees from one numeral to the next."""
        return 360 / self.steps_round

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


class Small(NamedTuple):
    """A post beside the middle with what has its name: its subdial's face over the dial rest, and its hand as set.

    Without a subdial or without a hand there is no seating.
    """

    post: SubPost
    subdial: Subdial | None
    hand: SubHand | None
    face: Quantity
    seating: Seating | None

    @property
    def seat(self) -> Seat | None:
        """Where its hand is set."""
        return self.seating.seats[SMALL_HANDS] if self.seating else None


class Pairing:
    """What a check looks at: the sheet's parts, the bench rules, the stack of levels, the hands' seats, the date.

    `drawn_spacer` is the spacer of which the sheet's numbers are one draw: made to one thickness, whatever they are.
    `foot_margins` are worked out once, when they are first asked for.
    """

    __slots__ = (
        "case",
        "crown",
        "date",
        "day",
        "dial",
        "drawn_spacer",
        "foot_margins",
        "hands",
        "movement",
        "parts",
        "rules",
        "seating",
        "sheet",
        "small",
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
    small: dict[str, Small]
    date: Shown | None
    day: Shown | None
    drawn_spacer: Number | None
    parts: Collection[str]
    foot_margins: list[list[Quantity]] | None

    def __init__(self, sheet: Sheet, rules: Rules, parts: Collection[str]) -> None:
        self.sheet, self.rules, self.parts = sheet, rules, parts
        self.drawn_spacer = self.foot_margins = None
        for name in ("case", "dial", "movement", "hands", "stem", "crown"):
            setattr(self, name, getattr(sheet, name))

    def has(self, part: str) -> bool:
        """Whether a part is chosen ("dial"); of the hands each by itself ("hands.minute"), or all of them ("hands")."""
        return part in self.parts or part.partition(".")[0] in self.parts

    def once_chosen(self, quantity: Quantity, *paths: str) -> Quantity:
        """The quantity once the parts are chosen that it tells of; unknown for want of them before."""
        absent = [path for path in paths if not self.has(part_of(path))]
        return unknown(*absent) if absent else quantity


def part_of(path: str) -> str:
    """The part that an input belongs to: "dial", and each hand by itself, "hands.minute"."""
    head, _, rest = path.partition(".")
    return f"{head}.{rest.partition('.')[0].partition('[')[0]}" if head == "hands" else head
