"""Which keys of a sheet belong to which construction; a key of another one is refused with the key that says so.

Source: fit model section 11. What another construction does not ask for may stand in a sheet; what it cannot have, not.
"""

from collections.abc import Iterator

from parts.fit.arithmetic import polyline
from parts.fit.arithmetic.elementwise import is_column
from parts.fit.arithmetic.quantities import SLACK
from parts.fit.errors import SheetError
from parts.fit.levels import widths
from parts.fit.records import Sheet, describe
from parts.fit.records.outline import SHAPES, Outline

FRONT_NUMBERS = ("floor_stem", "floor_ring", "floor_crystal_centre", "floor_crystal_edge", "front_opening_diameter")
"""The numbers that only a case loaded from the front has."""
BACK_NUMBERS = (
    *("stem_axis_depth", "back_depth", "seat_wall", "dial_seat_diameter"),
    *("crystal_gap_centre", "crystal_gap_edge"),
)
"""The numbers that a case loaded from the front does without."""


def refuse_mixed(sheet: Sheet) -> None:
    """Raises SheetError, with both keys, where a sheet's numbers are of another construction than it says."""
    for refusal in _case(sheet):
        raise refusal


EDGES = {
    "case.bore_diameter": ("case.bore_outline", widths.bore),
    "case.dial_seat_diameter": ("case.seat_outline", widths.seat),
    "case.dial_opening_diameter": ("case.opening_outline", widths.opening),
    "case.front_opening_diameter": ("case.front_opening_outline", widths.front),
    "dial.diameter": ("dial.outline", widths.dial),
    "movement.overall_diameter": ("movement.outline", widths.movement),
    "movement.fit_diameter": ("movement.fit_outline", widths.gripped),
}
"""Each diameter with the outline that may stand in its place."""
NESTED = (
    ("case.dial_opening_diameter", "case.dial_seat_diameter", "the dial would fall through the opening"),
    ("movement.fit_diameter", "movement.overall_diameter", "nothing of a movement is wider than its widest part"),
)
"""Of two edges the one that lies inside, the one round it, and why; two diameters are `contradictions`' matter."""
ROUND_TO = 0.01
"""mm by which a diameter may miss the outline beside it, which somebody drew or scanned."""


def refuse_outlines(sheet: Sheet) -> None:
    """Raises SheetError for an outline that is none, and for a diameter that its outline cannot have."""
    case, movement = sheet.case, sheet.movement
    of_case = case.bore_outline or case.seat_outline or case.opening_outline or case.front_opening_outline
    if not (of_case or sheet.dial.outline or movement.outline or movement.fit_outline):
        return
    for path, (name, edge_of) in EDGES.items():
        edge = edge_of(sheet)
        if edge.outline is not None:
            _refuse_shape(name, edge.outline)
            _refuse_diameter(path, name, edge)
    for inside, outside, reason in NESTED:
        _refuse_outside_of(sheet, inside, outside, reason)


def _refuse_outside_of(sheet: Sheet, inside: str, outside: str, reason: str) -> None:
    """An edge lies inside another all round, unless it cannot whatever their plus-minus."""
    (name, within), (round_it, about) = EDGES[inside], EDGES[outside]
    a, b = within(sheet), about(sheet)
    if a.outline is None and b.outline is None:
        return
    room = widths.clear(a, b)
    if not room.value.known or is_column(room.value.value):
        return
    if (room.span[1] if room.span else room.value.high) >= -SLACK:
        return
    first, second = name if a.outline else inside, round_it if b.outline else outside
    for side in ("width", "height") if a.outline and b.outline else ():
        low, high = getattr(a.outline, side), getattr(b.outline, side)
        if low.known and high.known and low.low > high.high + SLACK:
            limit = f"at least the {describe(f'{first}.{side}').phrase}, {low.value:.2f} mm"
            raise SheetError(f"{second}.{side}", high.value, limit, reason, f"{first}.{side}")
    limit = f"large enough to go round the {describe(first).phrase}"
    if b.outline is None:
        raise SheetError(second, b.diameter.value, limit, reason, first)
    raise SheetError(f"{second}.shape", "this outline", limit, reason, first)


def _refuse_shape(path: str, outline: Outline) -> None:
    if outline.shape is None:
        raise SheetError(f"{path}.shape", None, " or ".join(SHAPES), "an outline has a shape")
    for name in ("width", "height", "corner", "points"):
        value = getattr(outline, name)
        given = value is not None if name == "points" else value.known
        if given and name not in SHAPES[outline.shape]:
            shown = "points" if name == "points" else value.value
            raise SheetError(f"{path}.{name}", shown, "left out", f"no {outline.shape} has it", f"{path}.shape")
    if outline.shape == "polyline":
        fault = polyline.prepared(outline.points).fault if outline.points else "it has no points"
        if fault:
            limit = "points that run once round the hands' axis and do not cross"
            raise SheetError(f"{path}.points", "this outline", limit, fault)
    for side in ("width", "height"):
        corner, size = outline.corner, getattr(outline, side)
        if corner.known and size.known and corner.low > size.high / 2 + SLACK:
            limit = f"at most half the {side}, {size.value / 2:.2f} mm"
            raise SheetError(f"{path}.corner", corner.value, limit, "the corner is too round", f"{path}.{side}")


def _refuse_diameter(path: str, name: str, edge: widths.Edge) -> None:
    """A part with an outline may have a diameter beside it only as the circle that it nearly is."""
    size = edge.diameter
    least, most = widths.inner(edge).value, widths.outer(edge).value
    if not (size.known and least.known) or is_column(size.value) or is_column(least.value):
        return
    low, high = 2 * least.low - ROUND_TO, 2 * most.high + ROUND_TO
    if size.high < low or size.low > high:
        limit = f"left out, or from {low:.2f} to {high:.2f} mm across, as its outline is"
        raise SheetError(path, size.value, limit, "the two contradict each other", name)


def _case(sheet: Sheet) -> Iterator[SheetError]:
    case = sheet.case
    if case.construction and case.loading and case.construction != case.loading:
        reason = "the case is loaded from one side only"
        yield SheetError("case.construction", case.construction, f'"{case.loading}"', reason, "case.loading")
    if not case.is_front_loaded:
        reason = "only a case loaded from the front is measured like that"
        if case.ring:
            yield SheetError("case.ring", case.ring, "left out", reason, "case.construction")
        for name in FRONT_NUMBERS:
            number = getattr(case, name)
            if not number.missing:
                yield SheetError(f"case.{name}", number.value, "left out", reason, "case.construction")
