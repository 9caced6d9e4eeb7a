"""A holder ring as it is proposed: its edges, how it is made, its height in whole layers, and its features."""

from collections.abc import Mapping
from dataclasses import replace
from math import ceil, floor
from typing import Any

from parts.fit.arithmetic import outlines
from parts.fit.arithmetic.outlines import Outline
from parts.holder.body import HAIR
from parts.holder.edges import apart, grown, is_convex, land_at, of_edge, radius_at
from parts.holder.layers import layer_heights, whole_below
from parts.holder.limits import NUB_FIRM, NUB_MISSES, STEM_SNUG
from parts.holder.parameters import CutOut, Made
from parts.holder.process import THINNEST, thinnest
from parts.holder.proposals import standing
from parts.holder.proposals.marks import ROUND_MARK, marks
from parts.holder.proposals.proposed import (
    Measured,
    Proposed,
    made_as,
    of_edge_as,
    of_quantity,
    of_shape,
    shape_in,
    true_to,
)
from parts.holder.proposals.spacer import FOOT_ROOM
from parts.holder.surroundings import Surroundings

STEM_ROOM = 0.40
"""What a channel is wider than the tube's bore or the stem's thread, mm; common practice, no source."""
FOOT_POCKET = 1.50
"""How deep a pocket for a dial foot goes into a ring, mm; common practice, no source."""
RIM_ROOM = 0.05
"""What a step is wider than the movement's rim, mm; common practice, no source."""
RIM_SHARE = 0.30
"""Height of a movement's wider rim as a share of its whole height; a guess to be measured."""
NUB_PLACES = (3, 4, 2)
"""How many nubs an outline is tried with, in this order; common practice, no source."""


def propose(around: Surroundings, chosen: Mapping[str, Any], words: str, measured: Measured) -> dict[str, Proposed]:
    """Name to Proposed; `words` are to be engraved where they print."""
    outside = _outside(around)
    process, no_wall = _process(around, shape_in(outside, "outside"), measured)
    true = true_to(chosen.get("process") or process.value, measured)
    proposed = {"process": process} | true | outside
    proposed |= _inside(around, made_as(chosen, proposed).plus_minus)
    if no_wall:
        proposed["outside_diameter"] = Proposed(None, no_wall)
    made = made_as(chosen, proposed)
    rim, start = _rim(around, proposed, made, chosen.get("rim_height"))
    proposed |= rim | standing.stands(around, proposed, made, start)
    start = proposed["start"].value or 0.0 if "start" in proposed else 0.0
    proposed |= {
        "channel_angle": of_quantity(around.stem_angle, "the case's stem angle"),
        "channel_axis": of_quantity(around.stem_axis, "the movement's stem axis below its dial side", -start),
        "split_angle": _split_angle(around),
    }
    proposed |= _wall_features(around, proposed, made := made_as(chosen, proposed))
    inner, outer = shape_in(proposed, "inside"), shape_in(proposed, "outside")
    if inner and outer:
        proposed |= marks(inner, outer, proposed, made, words)
    proposed |= _in_layers(around, proposed, made, start)
    return proposed | _channel(around, proposed, made)


def _outside(around: Surroundings) -> dict[str, Proposed]:
    """The bore less its clearance, its corners as much rounder as they may be; less where the front is narrower."""
    clearance = around.rules.holder_clearance
    outside = of_edge_as("outside", around.bore, f"bore minus {clearance:.2f} mm all round", -clearance)
    shape, front = shape_in(outside, "outside"), of_edge(around.front)
    if shape and around.bore.outline and around.bore.outline.corner.known:
        corner = min(shape.corner + around.bore.outline.corner.half_width, shape.width / 2, shape.height / 2)
        shape = shape._replace(corner=corner)
        outside = of_shape("outside", shape, outside["outside_outline"].note)
    passing = standing.FRONT_ROOM
    if around.built == "floor" and shape and front and outlines.clear(shape, grown(front, -passing)) < 0:
        outside = of_shape("outside", grown(front, -passing), f"the front opening minus {passing:.2f} mm all round")
    return outside


def _split_angle(around: Surroundings) -> Proposed:
    """Where a split would be: opposite the stem, or a quarter from it where the mark at 12 o'clock lies there."""
    stem = around.stem_angle.value if around.stem_angle.known else 90.0
    opposite = (stem + 180) % 360
    if apart(opposite, 0.0) > ROUND_MARK:
        return Proposed(opposite, "opposite the stem")
    return Proposed((stem + 90) % 360, "a quarter from the stem, clear of 12 o'clock")


def _process(around: Surroundings, outside: Outline | None, measured: Measured) -> tuple[Proposed, str]:
    """How it is made, as its narrowest wall asks; and what is to be said where the gap is no wall at all."""
    fit = of_edge(around.gripped)
    if not (fit and outside):
        return Proposed("filament", "until the wall is known"), ""
    room = max((size.half_width for size in around.gripped.numbers), default=0.0)
    finer = "turned" if fit.shape == outside.shape == "round" else "resin"
    wall, least = float(outlines.clear(fit, outside)), around.rules.wall_min
    no_wall = ""
    if wall - (true_to(finer, measured)["plus_minus"].value + room) / 2 < THINNEST[finer][0]:
        no_wall = f"no ring: its wall would be {max(0.0, wall):.2f} mm, so use shim or clamps"
    note = f"the wall of {wall:.2f} mm is {'under' if wall < least else 'not under'} {least:.2f} mm"
    return Proposed(finer if wall < least else "filament", note), no_wall


def _inside(around: Surroundings, true: float) -> dict[str, Proposed]:
    """Round the movement, so much wider as it may come out tight."""
    name = "outline" if around.gripped.outline else "diameter"
    room = true + max((size.half_width for size in around.gripped.numbers if size.known), default=0.0)
    facets = HAIR if around.gripped.outline and around.gripped.outline.shape == "polyline" else 0.0
    return of_edge_as("inside", around.gripped, f"the movement's fit {name} plus {room:.2f} mm", room / 2 + facets)


def _in_layers(around: Surroundings, proposed: dict[str, Proposed], made: Made, start: float) -> dict[str, Proposed]:
    """Height and nubs in whole layers as they are proposed: the height downwards, nubs of two layers at least."""
    drawn = proposed["height"].value if "height" in proposed else None
    if made.process == "turned" or drawn is None or drawn <= made.first_layer:
        return {}
    height = whole_below(drawn, made)
    layered = {"height": Proposed(height, f"{proposed['height'].note}, in whole layers")}
    if around.built == "floor":
        face = Proposed(round(around.back_room.value - height, 4), "what is left of the room above the floor")
        axis = of_quantity(around.stem_axis - face.value, "the movement's stem axis below its dial side")
        step = proposed.get("flange_depth")
        if step and step.value and step.value > face.value:
            layered["flange_depth"] = Proposed(round(step.value - face.value, 4), step.note)
        return layered | {"start": face, "channel_axis": axis}
    gap = around.back_room.value - start - height
    _, layer = layer_heights(made)
    layers = max(2, ceil((gap + NUB_MISSES) / layer - 1e-9))
    nub = round(layers * layer, 3)
    pressed = f"pressed by {nub - gap:.2f} mm" + (": file them to fit" if nub - gap > NUB_FIRM else "")
    return layered | {"nub_height": Proposed(nub, f"{layers} layers, {pressed}")}


def _channel(around: Surroundings, ring: dict[str, Proposed], made: Made) -> dict[str, Proposed]:
    """As wide as the tube lets it be, less where no web would be left over it, and right through where none can be."""
    known = [size for size in (around.tube_bore, around.stem_thread) if size.known]
    if not known:
        return {"channel_width": of_quantity(around.stem_thread, "")}
    widest = max(known, key=lambda size: size.value)
    name = "tube's bore" if widest is around.tube_bore else "stem's thread"
    width = of_quantity(widest, f"{name} plus {STEM_ROOM:.2f} mm", STEM_ROOM)
    height, axis = ring["height"].value, ring["channel_axis"].value
    if not around.stem_thread.known:
        return {"channel_width": width}
    room = 2 * (STEM_SNUG + made.heights_plus_minus + around.stem_axis.half_width) + made.plus_minus
    narrow = of_quantity(around.stem_thread, f"the stem's thread plus {room:.2f} mm, so that a web is left", room)
    if narrow.value > width.value:
        width = replace(narrow, note=f"the stem's thread plus {room:.2f} mm, as true as heights come out")
    if height is None or axis is None:
        return {"channel_width": width}
    least, _ = thinnest(made)
    if height - axis - width.value / 2 >= least:
        return {"channel_width": width}
    if height - axis - narrow.value / 2 >= least:
        return {"channel_width": narrow}
    return {"channel_width": width, "channel_open": Proposed("through", "no web is left over the stem")}


def _rim(
    around: Surroundings, proposed: dict[str, Proposed], made: Made, measured: float | None
) -> tuple[dict[str, Proposed], float]:
    """What a movement's wider rim asks for: a step, or a ring that begins behind it; and where the ring begins, mm."""
    rim, inside, outside = of_edge(around.overall), shape_in(proposed, "inside"), shape_in(proposed, "outside")
    fit, back = of_edge(around.gripped), around.back_height
    if not (rim and fit and inside) or outlines.clear(rim, fit) >= 0:
        return {}, 0.0
    depth = measured or (round(RIM_SHARE * back.value, 2) if back.known else None)
    guess = "a guess, 30 % of the movement's height: measure its rim" if depth else "measure the height of the rim"
    guess = "the rim as it is measured" if measured else guess
    room = RIM_ROOM + made.plus_minus
    step = grown(rim, room / 2)
    least = around.rules.wall_min if made.process == "filament" else thinnest(made)[0]
    if outside and outlines.clear(step, outside) < least + (standing.BEARING if around.built == "ledge" else 0.0):
        why = f"behind the movement's rim: no wall of {least:.2f} mm fits beside it; "
        return {"start": Proposed(depth, why + guess)}, depth or 0.0
    words = "outline" if around.overall.outline else "overall diameter"
    edge = of_shape("flange", step, f"the movement's {words} plus {room:.2f} mm")
    return edge | {"flange_depth": Proposed(depth, guess)}, 0.0


def _wall_features(around: Surroundings, ring: dict[str, Proposed], made: Made) -> dict[str, Proposed]:
    """Nubs, notch, chamfer, pockets and mark, as the wall has room for them."""
    outside, inside, height = shape_in(ring, "outside"), shape_in(ring, "inside"), ring["height"].value
    if not (outside and inside):
        return {}
    wall = float(outlines.clear(inside, outside))
    front = float(outlines.clear(shape_in(ring, "flange") or inside, shape_in(ring, "nose") or outside))
    steps = [ring[name].value for name in ("flange_depth", "nose_height") if name in ring and ring[name].value]
    stem = around.stem_angle.value or 0.0
    bevelled = all(is_convex(edge) for edge in (outside, inside, shape_in(ring, "flange") or inside))
    most = min(0.2, front / 8, wall / 8, *(step / 2 for step in steps))
    chamfer = floor(max(0.0, most) * 100 + 1e-9) / 100 if bevelled else 0.0
    features = {
        "chamfer": Proposed(chamfer, "at most 0.20 mm, and at most an eighth of the wall"),
        "notch_angle": Proposed((stem + 240.0) % 360, "between two nubs"),
        "cutouts": _pockets(around, inside, outside, height),
    }
    if made.process == "turned":
        return features | {"nub_count": Proposed(0.0, "nubs are not turned")}
    if around.built == "floor":
        return features | {"nub_count": Proposed(0.0, "nothing presses from behind")}
    count, angle, land = _nub_places(inside, outside, stem)
    features["nub_count"] = Proposed(float(count), "where the wall is wide enough" if count != 3 else "the usual three")
    features["nub_angle"] = Proposed(angle, f"{(angle - stem) % 360:.0f}° from the stem")
    nub = floor(min(1.5, land - 2 * chamfer) * 20 + 1e-9) / 20
    if nub < made.nozzle:
        features["nub_count"] = Proposed(0.0, "no place on the wall is wide enough for a nub")
        return features
    features["nub_diameter"] = Proposed(nub, "the flat of the back, at most 1.50 mm")
    spare = wall - max(around.rules.wall_min, thinnest(Made())[1])
    if spare >= 0.4 and height and height > 1.6 and outside.shape == "round":
        features["notch_width"] = Proposed(3.0, "enough for a fingernail or a tool")
        deep = min(0.6, floor((spare - 0.2) * 100 + 1e-9) / 100)
        features["notch_depth"] = Proposed(deep, "leaves the web a printed ring needs")
        features["lip"] = Proposed(0.2, "grip for a hook")
    return features


def _nub_places(inside: Outline, outside: Outline, stem: float) -> tuple[int, float, float]:
    """How many nubs, the first one's angle, and the width of the wall at the narrowest of their places, mm."""
    if inside.shape == outside.shape == "round":
        return NUB_PLACES[0], (stem + 60.0) % 360, (outside.width - inside.width) / 2
    lands = {angle: land_at(inside, outside, angle) for angle in range(0, 360, 5)}
    best = (0, 0.0, 0.0)
    for count in NUB_PLACES:
        places = [stem + 20.0 + step for step in range(0, 360 // count, 5)]
        least = {first: min(_near(lands, first + 360 * i / count) for i in range(count)) for first in places}
        clear = {a: w for a, w in least.items() if all(apart(a + 360 * i / count, stem) > 15 for i in range(count))}
        first = max(clear, key=lambda angle: round(clear[angle], 2))
        if clear[first] > best[2] + 0.2:
            best = count, first % 360, clear[first]
        if best[2] >= 1.5:
            break
    return best


def _near(lands: dict[int, float], angle: float) -> float:
    return lands[round(angle / 5) * 5 % 360]


def _pockets(around: Surroundings, inside: Outline, outside: Outline, height: float | None) -> Proposed:
    pockets = []
    for angle, radius, diameter in around.feet:
        near, far = radius_at(inside, angle), radius_at(outside, angle)
        depth = radius + (diameter + FOOT_ROOM) / 2 - near
        if radius + diameter / 2 > near and radius - diameter / 2 < far and height:
            deep = round(min(FOOT_POCKET, height), 2)
            pockets.append(CutOut(angle, round(diameter + FOOT_ROOM, 2), round(depth, 2), 0.0, deep, "dial foot"))
    return Proposed(
        tuple(pockets), "dial feet beyond the movement's edge" if pockets else "the dial feet clear the ring"
    )
