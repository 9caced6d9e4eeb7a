"""Every dimension of a holder or a spacer proposed from the surroundings, each with a note where it comes from.

What is not measured is proposed as None, with the note naming it. Allowances without a source are common practice.
"""

from dataclasses import dataclass
from math import ceil, floor
from typing import Any

from parts.fit.arithmetic.quantities import Quantity
from parts.fit.records import describe
from parts.holder.layers import even_layers, whole_below
from parts.holder.limits import NUB_FIRM, NUB_MISSES
from parts.holder.parameters import CutOut, FootNotch, Made
from parts.holder.process import thinnest
from parts.holder.surroundings import Surroundings

BACK_CLEARANCE = 0.10
"""Room between ring and case back, mm; common practice, no source."""
STEM_ROOM = 0.40
"""What a channel is wider than the tube's bore or the stem's thread, mm; common practice, no source."""
FOOT_ROOM = 0.30
"""What a notch is wider than the dial foot in it, mm; common practice, no source."""
FOOT_POCKET = 1.50
"""How deep a pocket for a dial foot goes into a ring, mm; common practice, no source."""
RIM_ROOM = 0.05
"""What a step is wider than the movement's rim, mm; common practice, no source."""
RIM_SHARE = 0.30
"""Height of a movement's wider rim as a share of its whole height; a guess to be measured."""


@dataclass(frozen=True, slots=True)
class Proposed:
    """A value, None where it cannot be told, and where it comes from."""

    value: Any
    note: str


def _of(quantity: Quantity, note: str, change: float = 0.0) -> Proposed:
    if not quantity.known:
        return Proposed(None, f"not measured yet: {', '.join(describe(name).phrase for name in quantity.missing)}")
    return Proposed(round(quantity.value + change, 3), note)


def propose(kind: str, around: Surroundings) -> dict[str, Proposed]:
    """Name to Proposed for every dimension of that kind that the surroundings say something about."""
    return _ring(around) if kind == "ring" else _spacer(around)


def _ring(around: Surroundings) -> dict[str, Proposed]:
    rules = around.rules
    rim, start = _rim(around)
    proposed = {
        "outside_diameter": _of(
            around.bore, f"bore minus {rules.holder_clearance:.2f} mm all round", -2 * rules.holder_clearance
        ),
        "inside_diameter": _of(around.fit_diameter, "the movement's fit diameter"),
        "height": _of(
            around.back_room, f"depth to the case back minus {BACK_CLEARANCE:.2f} mm", -BACK_CLEARANCE - start
        ),
        "channel_angle": _of(around.stem_angle, "the case's stem angle"),
        "channel_axis": _of(around.stem_axis, "the movement's stem axis below its dial side", -start),
        "channel_width": _channel(around),
    }
    proposed |= rim | _wall_features(around, proposed, rim)
    return proposed | (_in_layers(around, proposed, start) if _is_printed(proposed) else {})


def _is_printed(proposed: dict[str, Proposed]) -> bool:
    return "process" not in proposed or proposed["process"].value != "turned"


def _in_layers(around: Surroundings, proposed: dict[str, Proposed], start: float) -> dict[str, Proposed]:
    """Height and nubs in whole layers as they are proposed: the height downwards, nubs of two layers at least."""
    made, drawn = Made(), proposed["height"].value
    if drawn is None or drawn <= made.first_layer:
        return {}
    height = whole_below(drawn, made)
    gap = around.back_room.value - start - height
    layers = max(2, ceil((gap + NUB_MISSES) / made.layer - 1e-9))
    nub = round(layers * made.layer, 3)
    pressed = f"pressed by {nub - gap:.2f} mm" + (": file them to fit" if nub - gap > NUB_FIRM else "")
    return {
        "height": Proposed(height, f"{proposed['height'].note}, in whole layers"),
        "nub_height": Proposed(nub, f"{layers} layers, {pressed}"),
    }


def _channel(around: Surroundings) -> Proposed:
    known = [size for size in (around.tube_bore, around.stem_thread) if size.known]
    if not known:
        return _of(around.stem_thread, "")
    widest = max(known, key=lambda size: size.value)
    name = "tube's bore" if widest is around.tube_bore else "stem's thread"
    return _of(widest, f"{name} plus {STEM_ROOM:.2f} mm", STEM_ROOM)


def _rim(around: Surroundings) -> tuple[dict[str, Proposed], float]:
    """What a movement's wider rim asks for: a step, or a ring that begins behind it; and where the ring begins, mm."""
    overall, fit, back, bore = around.overall_diameter, around.fit_diameter, around.back_height, around.bore
    if not (overall.known and fit.known) or overall.value <= fit.value:
        return {}, 0.0
    depth = round(RIM_SHARE * back.value, 2) if back.known else None
    guess = "a guess, 30 % of the movement's height: measure its rim" if depth else "measure the height of the rim"
    wall = (bore.value - overall.value - RIM_ROOM) / 2 - around.rules.holder_clearance if bore.known else None
    if wall is not None and wall < around.rules.wall_min:
        why = f"behind the movement's rim: no wall of {around.rules.wall_min:.2f} mm fits beside it; "
        return {"start": Proposed(depth, why + guess)}, depth or 0.0
    step = _of(overall, f"the movement's overall diameter plus {RIM_ROOM:.2f} mm", RIM_ROOM)
    return {"flange_diameter": step, "flange_depth": Proposed(depth, guess)}, 0.0


def _wall_features(around: Surroundings, ring: dict[str, Proposed], rim: dict[str, Proposed]) -> dict[str, Proposed]:
    """Process, nubs, notch and chamfer, as the wall has room for them."""
    outside, inside, height = (ring[name].value for name in ("outside_diameter", "inside_diameter", "height"))
    if outside is None or inside is None:
        return {}
    wall = (outside - inside) / 2
    step = rim["flange_diameter"].value if "flange_diameter" in rim else inside
    front = (outside - step) / 2
    least = around.rules.wall_min
    stem = around.stem_angle.value or 0.0
    turned = wall < least
    chamfer = round(min(0.2, max(0.0, front / 8, wall / 8)), 2)
    features = {
        "process": Proposed(
            "turned" if turned else "filament",
            f"the wall of {wall:.2f} mm is {'under' if turned else 'not under'} {least:.2f} mm",
        ),
        "chamfer": Proposed(chamfer, "at most 0.20 mm, and at most an eighth of the wall"),
        "notch_angle": Proposed((stem + 240.0) % 360, "between two nubs"),
        "nub_angle": Proposed((stem + 60.0) % 360, "60° from the stem"),
        "cutouts": _pockets(around, inside, wall, height),
    }
    if turned:
        return features | {"nub_count": Proposed(0.0, "nubs are not turned")}
    nub = floor(min(1.5, wall - 2 * chamfer) * 20 + 1e-9) / 20
    features["nub_diameter"] = Proposed(nub, "the flat of the back, at most 1.50 mm")
    spare = wall - _care_free(around)
    if spare >= 0.4 and height and height > 1.6:
        features["notch_width"] = Proposed(3.0, "enough for a fingernail or a tool")
        features["notch_depth"] = Proposed(round(min(0.6, spare - 0.2), 2), "leaves the web a printed ring needs")
        features["lip"] = Proposed(0.2, "grip for a hook")
    return features


def _care_free(around: Surroundings) -> float:
    """Thinnest wall that needs no care with a 0.4 mm nozzle, mm."""
    return max(around.rules.wall_min, thinnest(Made())[1])


def _pockets(around: Surroundings, inside: float, wall: float, height: float | None) -> Proposed:
    pockets = []
    for angle, radius, diameter in around.feet:
        depth = radius + (diameter + FOOT_ROOM) / 2 - inside / 2
        if radius + diameter / 2 > inside / 2 and radius - diameter / 2 < inside / 2 + wall and height:
            deep = round(min(FOOT_POCKET, height), 2)
            pockets.append(CutOut(angle, round(diameter + FOOT_ROOM, 2), round(depth, 2), 0.0, deep, "dial foot"))
    return Proposed(
        tuple(pockets), "dial feet beyond the movement's edge" if pockets else "the dial feet clear the ring"
    )


def _spacer(around: Surroundings) -> dict[str, Proposed]:
    thickness = Proposed(None, "not known yet: the fit check cannot place the stem")
    if around.spacer is not None:
        thickness = Proposed(round(around.spacer, 3) or None, "the fit check's spacer")
        if not around.spacer:
            thickness = Proposed(None, "the fit check needs no spacer")
    if around.placement == "front":
        outside = _of(around.seat, "the dial seat minus 0.05 mm all round", -0.10)
        inside = _of(around.opening, "the dial opening plus 0.05 mm all round", 0.10)
        notches = Proposed((), "no dial foot passes in front of the dial")
    else:
        outside, inside = _of(around.fit_diameter, "the movement's fit diameter"), _behind(around)
        feet = tuple(
            FootNotch(angle, radius, round(diameter + FOOT_ROOM, 2), "dial foot")
            for angle, radius, diameter in around.feet
        )
        notches = Proposed(feet, f"each dial foot plus {FOOT_ROOM:.2f} mm" if feet else "no feet listed")
    made = _making(thickness.value) if thickness.value else {}
    return {"outside_diameter": outside, "inside_diameter": inside, "thickness": thickness, "notches": notches} | made


def _making(thickness: float) -> dict[str, Proposed]:
    """Layers that make a spacer's thickness exactly; another way where none do."""
    even = even_layers(thickness, Made())
    if even is None:
        return {"process": Proposed("turned", f"{thickness:.2f} mm is thinner than a printer's thinnest layer")}
    count, layer = even
    note = f"{count} even layer{'s' if count > 1 else ''} make {thickness:.2f} mm"
    return {name: Proposed(round(layer, 6), note) for name in ("layer", "first_layer")}


def _behind(around: Surroundings) -> Proposed:
    gap = around.rules.pad_disc_gap
    if around.disc_outer is not None:
        return _of(around.disc_outer * 2, f"the date disc plus {gap:.2f} mm all round", 2 * gap)
    return _of(around.fit_diameter, "the fit diameter minus 3.00 mm", -3.0)
