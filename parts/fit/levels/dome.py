"""A domed dial: its edge rests where the dial's edge does, its back on the movement's rim.

Source: fit model section 11.5. The dome is a sphere; what is lower than the dial's middle has fallen, positive.
"""

from parts.fit.arithmetic.dome import fall
from parts.fit.arithmetic.elementwise import pick
from parts.fit.arithmetic.quantities import Quantity, in_hand, least, or_else
from parts.fit.levels import widths
from parts.fit.records import Hand, Sheet


def fallen(sheet: Sheet, radius: Quantity) -> Quantity:
    """How far the dial has fallen at this radius."""
    dial = sheet.dial
    fell = fall(dial.rise, widths.inner(widths.dial(sheet)).value, radius)
    return pick(in_hand(dial.rise), fell, Quantity(0.0))


def fallen_at_rest(sheet: Sheet) -> Quantity:
    """The same where the movement touches the dial's back: at the edge of the smaller of the two."""
    edges = widths.dial(sheet), widths.movement(sheet)
    return fallen(sheet, least(*(widths.inner(edge).value for edge in edges)))


def edge_below_rest(sheet: Sheet) -> Quantity:
    """How much lower than where the movement touches it the dial lies at its edge."""
    return pick(in_hand(sheet.dial.rise), sheet.dial.rise, Quantity(0.0)) - fallen_at_rest(sheet)


def hub_over_rest(sheet: Sheet) -> Quantity:
    """How much higher than where the movement touches it the dial lies under the hour hand's hub."""
    return fallen_at_rest(sheet) - fallen(sheet, 0.5 * boss_of(sheet.hands.hour))


def over_edge(sheet: Sheet, radius: Quantity) -> Quantity:
    """How much higher than at its edge the dial lies at this radius."""
    return pick(in_hand(sheet.dial.rise), sheet.dial.rise, Quantity(0.0)) - fallen(sheet, radius)


def boss_of(hand: Hand) -> Quantity:
    """Width of the hub as it is seen from above: its boss, by default its collet."""
    return or_else(hand.boss_diameter, hand.hub_diameter)
