"""The spacer and the levels that follow from it, told by how the case is built.

Source: fit model sections 1, 9 and 11. Depths count from the case's datum towards the case back: the dial seat, the
ledge that the movement stands on, or the floor of a case loaded from the front, whose heights are negative depths here.
Levels of the dial count from the dial rest towards the crystal.
"""

from math import nan

from parts.fit.arithmetic.elementwise import Number, Truth, known_or, lower, pick, upper
from parts.fit.arithmetic.quantities import SLACK, Quantity, in_hand, measured, or_else, unknown
from parts.fit.levels import dome
from parts.fit.pairing import Stack
from parts.fit.records import MADE_SPACER, Sheet
from parts.fit.rules import Rules

NOTHING = Quantity(0.0)


def stem_offset(sheet: Sheet) -> Quantity:
    """S: how far the movement's stem has to come back, or up from the floor, to lie on the case's axis."""
    case, movement = sheet.case, sheet.movement
    if case.is_front_loaded:
        return case.floor_stem - (movement.back_height - movement.stem_axis_depth)
    if sheet.is_movement_standing:
        return case.stem_axis_depth + movement.ring_rise - movement.stem_axis_depth
    offset = case.stem_axis_depth - sheet.dial.thickness - movement.stem_axis_depth
    return offset + dome.edge_below_rest(sheet) if sheet.dial.rise.known else offset


def holder_rise(sheet: Sheet) -> Quantity:
    """a_m - A_c: how far over the ledge a holder has to carry the dial rest so that the stem meets its hole."""
    return sheet.movement.stem_axis_depth - sheet.case.stem_axis_depth


def has_rise(sheet: Sheet) -> Truth:
    """Whether the movement stands on a ring of its own; where it does not, the holder is made for it."""
    return in_hand(sheet.movement.ring_rise)


def pads(sheet: Sheet, rules: Rules) -> Quantity:
    """Thickness of the dial pads under the dial, the rule's where they were not measured; 0 without pads."""
    if sheet.dial.fixing != "pads":
        return NOTHING
    return or_else(sheet.dial.pad_thickness, Quantity(rules.pad_thickness))


def pads_before_stem(sheet: Sheet, rules: Rules) -> Quantity:
    """What of the pads takes up the stem's offset: all, where the dial is what stands in the case, else nothing."""
    return NOTHING if sheet.is_movement_standing else pads(sheet, rules)


def tolerance(sheet: Sheet, rules: Rules) -> Number:
    """How far the stem may sit off the hole's axis: the rule's, or less where the tube leaves the stem less room."""
    play = 0.5 * (sheet.case.tube_bore_diameter - stem_diameter(sheet))
    if not play.known:
        return rules.stem_tol
    by_tube = upper(0.0, play.value - rules.tube_play_min)
    return lower(rules.stem_tol, known_or(by_tube, rules.stem_tol))


def stem_diameter(sheet: Sheet) -> Quantity:
    """The stem's body, its thread where the body was not measured."""
    return or_else(sheet.stem.diameter, sheet.stem.thread)


def spacer(sheet: Sheet, rules: Rules) -> Quantity:
    """The spacer as it will be made: an input of its own, true to spacer_pm; none within the tolerance.

    It is never below zero.
    """
    offset = stem_offset(sheet)
    if not offset.known:
        return unknown(*offset.missing)
    wanted = offset - pads_before_stem(sheet, rules)
    made = measured(MADE_SPACER, wanted.value, rules.spacer_pm)
    return pick(
        in_hand(offset), pick(needs_spacer(wanted, tolerance(sheet, rules)), made, Quantity(0.0)), Quantity(nan)
    )


def needs_spacer(wanted: Quantity, allowed: Number) -> Truth:
    """Whether what is left of the stem's offset once pads are counted is more than the tolerance."""
    return wanted.known and wanted.value > allowed + SLACK


def stack(sheet: Sheet, rules: Rules, placement: str, made: Quantity | None = None) -> Stack:
    """The levels with the spacer in front of the dial ("front") or behind it ("rear"), where there is a choice.

    `made` is the spacer where it is not to be worked out from the sheet.
    """
    if sheet.case.is_front_loaded:
        return _on_the_floor(sheet, rules, made or spacer(sheet, rules))
    if sheet.is_movement_standing:
        return _on_the_ledge(sheet, rules, made)
    made = made or spacer(sheet, rules)
    front, rear = (made, NOTHING) if placement == "front" else (NOTHING, made)
    behind = rear + pads(sheet, rules)
    face, at_hub = _faces(sheet, behind)
    return Stack(placement, made, front, behind, front + face, face, at_hub, front, _wheel_rise(behind, rules), made)


def _on_the_floor(sheet: Sheet, rules: Rules, made: Quantity) -> Stack:
    """The stem puts the dial rest at A_f + a_m above the floor; the spacer lies under the movement."""
    behind = pads(sheet, rules)
    face, at_hub = _faces(sheet, behind)
    rest = (sheet.case.floor_stem + sheet.movement.stem_axis_depth) * -1.0
    return Stack("floor", made, NOTHING, behind, rest, face, at_hub, rest - face, _wheel_rise(behind, rules), made)


def _on_the_ledge(sheet: Sheet, rules: Rules, made: Quantity | None) -> Stack:
    """The movement's ring stands on the ledge, a spacer between them, or a holder is made that rises by a_m - A_c."""
    behind = pads(sheet, rules)
    face, at_hub = _faces(sheet, behind)
    own, rise = has_rise(sheet), holder_rise(sheet)
    to_make = rise if not rise.known else measured(MADE_SPACER, rise.value, rules.spacer_pm)
    made = made or pick(own, spacer(sheet, rules), to_make)
    thickness = pick(own, made, NOTHING)
    rest = pick(own, thickness - sheet.movement.ring_rise, made * -1.0)
    return Stack("ledge", thickness, NOTHING, behind, rest, face, at_hub, rest - face, _wheel_rise(behind, rules), made)


def _faces(sheet: Sheet, behind: Quantity) -> tuple[Quantity, Quantity]:
    """The dial's face above the dial rest, at its edge and at the hub."""
    face = behind + sheet.dial.thickness
    at_hub = behind + or_else(sheet.dial.centre_thickness, sheet.dial.thickness)
    if not sheet.dial.rise.known:
        return face, at_hub
    return face - dome.edge_below_rest(sheet), at_hub + dome.hub_over_rest(sheet)


def _wheel_rise(behind: Quantity, rules: Rules) -> Quantity:
    loose = behind.known and behind.value <= rules.wheel_rise_max + SLACK
    return pick(loose, behind, NOTHING)
