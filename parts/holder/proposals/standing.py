"""What a ring stands on, and what follows for its height: under the dial, on a ledge of the case, or on its floor."""

from parts.fit.arithmetic import outlines
from parts.holder.edges import grown, of_edge
from parts.holder.layers import even_layers
from parts.holder.limits import BACK_SNUG
from parts.holder.parameters import Made
from parts.holder.process import thinnest
from parts.holder.proposals.proposed import Proposed, of_quantity, of_shape, shape_in
from parts.holder.surroundings import Surroundings

BACK_CLEARANCE = 0.10
"""Least room between ring and case back, mm, where the ring's height comes out true enough; common practice."""
FRONT_ROOM = 0.05
"""All round between a ring and the front opening or the ledge that it passes, mm; common practice, no source."""
BELOW_DIAL = 0.10
"""How far a ring on the floor stays behind the dial rest: the movement carries the dial, mm; common practice."""
FLOOR_REACH = 1.0
"""How far a ring's floor reaches under the movement, mm; common practice, no source."""
BEARING = 0.40
"""Least width of the step that bears on a ledge, mm; common practice, no source."""


def stands(around: Surroundings, ring: dict[str, Proposed], made: Made, start: float) -> dict[str, Proposed]:
    """Height and start, and the features that the ring stands by; `start` is where the movement's rim lets it begin."""
    if around.built == "floor":
        return _on_the_floor(around, made, max(start, BELOW_DIAL))
    step = _on_the_ledge(around, ring, made, start) if around.built == "ledge" else {}
    start = step["start"].value if "start" in step else start
    clearance = max(BACK_CLEARANCE, BACK_SNUG + made.heights_plus_minus + around.back_room.half_width)
    note = f"depth to the case back minus {clearance:.2f} mm"
    return step | {"height": of_quantity(around.back_room, note, -clearance - start)}


def _on_the_floor(around: Surroundings, made: Made, start: float) -> dict[str, Proposed]:
    """The ring stands on the case floor, and where the stem asks for it the movement on a floor of the ring."""
    room, thickness = around.back_room, around.spacer
    proposed = {
        "height": of_quantity(room, f"floor to dial rest minus {start:.2f} mm", -start),
        "start": Proposed(start, "so that the movement carries the dial"),
        "held_by": Proposed("dial ring", "the case's own ring presses the dial")
        if around.ring_on_dial
        else Proposed("clamps", "no ring of the case presses the dial"),
    }
    if not thickness:
        return proposed
    proposed["lip_reach"] = Proposed(FLOOR_REACH, "a floor under the movement's edge")
    proposed["lip_height"] = Proposed(round(thickness, 3), "the floor that the fit check asks for")
    even = even_layers(thickness, made)
    if made.process != "turned" and even is not None:
        note = f"{even[0]} even layer{'s' if even[0] > 1 else ''} make the floor of {thickness:.2f} mm"
        proposed |= {name: Proposed(round(even[1], 6), note) for name in ("layer", "first_layer")}
    return proposed


def _on_the_ledge(around: Surroundings, ring: dict[str, Proposed], made: Made, start: float) -> dict[str, Proposed]:
    """A step on the ledge carries the dial rest in front of it; behind it the ring goes round the dial's edge."""
    rise, dial, outside, inside = (
        around.ledge,
        of_edge(around.dial),
        shape_in(ring, "outside"),
        shape_in(ring, "inside"),
    )
    if not (rise.known and dial and outside and inside):
        return {"nose_height": of_quantity(rise, "")} if not rise.known else {}
    least, _ = thinnest(made)
    front = shape_in(ring, "flange") or inside
    if rise.value - start > 0:
        nose, note = (
            grown(dial, -FRONT_ROOM),
            f"the dial minus {FRONT_ROOM:.2f} mm all round, as it goes where the dial does",
        )
        if outlines.clear(nose, outside) < BEARING:
            nose, note = grown(outside, -BEARING), f"leaves {BEARING:.2f} mm to bear on the ledge"
        if outlines.clear(front, nose) < least:
            return {"nose_height": Proposed(None, f"no wall of {least:.2f} mm is left in front of the ledge")}
        height = Proposed(round(rise.value - start, 3), "the dial rest over the ledge, so that the stem meets its hole")
        return of_shape("nose", nose, note) | {"nose_height": height}
    if start > 0:
        return {"nose_height": Proposed(None, "the movement's rim lies on the ledge: no ring reaches past it")}
    if rise.value == 0:
        return {}
    edge = grown(dial, FRONT_ROOM)
    if outlines.clear(front, edge) < 0 or outlines.clear(edge, outside) < least:
        return {"flange_depth": Proposed(None, f"no wall of {least:.2f} mm is left round the dial's edge")}
    round_it = of_shape("flange", edge, f"the dial plus {FRONT_ROOM:.2f} mm all round")
    depth = Proposed(round(-rise.value, 3), "the dial rest behind the ledge, so that the stem meets its hole")
    begins = Proposed(round(rise.value, 3), "the ledge lies in front of the dial rest")
    return round_it | {"flange_depth": depth, "start": begins}
