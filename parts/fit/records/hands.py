"""The hands, each by itself."""

from dataclasses import dataclass

from parts.fit.arithmetic.quantities import Quantity
from parts.fit.inputs import a_length, a_size, an_amount
from parts.fit.records.kinds import by_name, choice, named, optional, part

HANDS = ("hour", "minute", "seconds")
SMALL_HANDS = "subsidiary"
"""What the small hands, of posts beside the middle, stand under."""


@dataclass(frozen=True, slots=True)
class Hand:
    hole_diameter: Quantity = a_size("hole diameter", "of the hub, where it presses on")
    length: Quantity = a_length("length", "from the hole's centre to the tip")
    tail: Quantity = a_length("tail", "from the hole's centre to the end of the tail; 0 for none")
    thickness: Quantity = a_size("blade thickness")
    hub_height: Quantity = a_size("hub height", "from the hub's underside to its top")
    hub_diameter: Quantity = a_size("hub diameter", "of the collet round the post")
    boss_diameter: Quantity = a_size("boss diameter", "what is seen of the hub from above, where it is wider")
    blade_step: Quantity = a_length("blade step", "from the hub's top down to the blade's top", most=5.0)
    tip_drop: Quantity = a_length("tip drop", "of a bent hand, its tip below its blade at the hub", most=5.0)
    cap_thickness: Quantity = a_length(
        "cap thickness", "what a closed tube stands above its post's top; 0 if bored through", most=5.0
    )
    made_for: Quantity = a_size("trade size", "the size that it is sold as", most=5.0)
    tried: str | None = choice("tried on its post", ("loose", "grips", "tight"))
    mass: Quantity = an_amount("mass", "mg")
    centre_of_mass: Quantity = a_length("centre of mass", "from the hole's centre to the point of balance; no sign")


@dataclass(frozen=True, slots=True)
class SubHand(Hand):
    """The hand of a small post, under the post's name."""

    name: str = named("name")


@dataclass(frozen=True, slots=True)
class HandSet:
    hour: Hand = part(Hand, "hour hand")
    minute: Hand = part(Hand, "minute hand")
    seconds: Hand | None = optional(Hand, "seconds hand")
    subsidiary: tuple[SubHand, ...] = by_name(SubHand, "small hand")


def fitted(hands: HandSet) -> list[tuple[str, Hand]]:
    """The (name, hand) pairs of the hands that the watch has, from the dial upwards."""
    return [(name, getattr(hands, name)) for name in HANDS if getattr(hands, name) is not None]
