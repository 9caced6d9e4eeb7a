"""True STEP of a piece for further drafting, by the OpenCASCADE kernel; an optional extra of about 300 MB.

`uv pip install --group step` brings it (see DEVELOPERS.md); Debian needs libgl1 for it.
"""

import tempfile
from collections.abc import Sequence
from importlib.util import find_spec
from math import cos, radians, sin
from pathlib import Path
from typing import Any

from parts.fit.arithmetic.outlines import Outline
from parts.holder.body import HAIR
from parts.holder.edges import direction, grown, polygon, rings
from parts.holder.mesh import body_of
from parts.holder.parameters import Piece
from parts.holder.shapes import Bore, Engraving, Pin, Point, Prism, Shape, Step, Strip, Turned, set_off

MOST_OFF = 0.001
"""Most that the volumes of body and mesh may differ by, as a share; facets alone make a tenth of that."""
_SAME_POINT = 1e-6
_SMALL = 0.001
_TRIES = 3
MISSING = "STEP needs an optional extra: run “make step” once and start again. STL, 3MF and DXF work without it."


def installed() -> bool:
    """Whether the kernel is there."""
    return find_spec("OCP") is not None


class NotTheBody(Exception):
    """The kernel's body is not the one that was drawn; nothing of it is handed out."""


def step_file(parameters: Piece, title: str = "") -> bytes:
    """The STEP file's bytes, lengths in mm, `title` as its name in the header and as the part's name.

    Raises NotTheBody where its volume is not that of the mesh, ModuleNotFoundError where the kernel is not installed.
    """
    from OCP.APIHeaderSection import APIHeaderSection_MakeHeader
    from OCP.IFSelect import IFSelect_RetDone
    from OCP.Interface import Interface_Static
    from OCP.Message import Message, Message_PrinterOStream
    from OCP.STEPControl import STEPControl_AsIs, STEPControl_Writer
    from OCP.TCollection import TCollection_HAsciiString

    body = _checked_body(parameters)
    Message.DefaultMessenger_s().RemovePrinters(Message_PrinterOStream.get_type_descriptor_s())
    writer = STEPControl_Writer()
    name = title.encode("ascii", "replace").decode() or "holder"
    Interface_Static.SetCVal_s("write.step.product.name", name)
    writer.Transfer(body, STEPControl_AsIs)
    APIHeaderSection_MakeHeader(writer.Model()).SetName(TCollection_HAsciiString(name))
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "piece.step"
        if writer.Write(str(path)) != IFSelect_RetDone:
            raise OSError("the STEP file could not be written")
        return path.read_bytes()


def _checked_body(parameters: Piece) -> Any:
    """The body, compared in volume with the mesh: the kernel loses a cut at times, without a word.

    Where it does, or gives up, features that only touch are set off by hairs, and it is built again.
    """
    body = body_of(parameters)
    drawn, plan, fault = body.solid.volume(), body.steps, ""
    for hairs in range(_TRIES + 1):
        steps = [set_off(step, HAIR * hairs * (1 + 0.37 * (i % 4))) for i, step in enumerate(plan)] if hairs else plan
        try:
            body = _body(steps)
        except Exception as failure:  # the kernel's own have no class in common
            if not type(failure).__module__.startswith("OCP"):
                raise
            fault = "the kernel cannot build it"
            continue
        made = volume(body)
        if abs(made / drawn - 1) <= MOST_OFF:
            return body
        fault = f"its volume would be {made:.1f} mm³ where {drawn:.1f} mm³ are drawn"
    raise NotTheBody(fault)


def _body(steps: Sequence[Step]) -> Any:
    from OCP.BRepAlgoAPI import BRepAlgoAPI_Cut, BRepAlgoAPI_Fuse

    body = None
    for step in steps:
        solid = _solid(step.solid)
        join = BRepAlgoAPI_Cut if step.cut else BRepAlgoAPI_Fuse
        body = solid if body is None else join(body, solid).Shape()
    return body


def volume(body: Any) -> float:
    """mm³ of the kernel's body."""
    from OCP.BRepGProp import BRepGProp
    from OCP.GProp import GProp_GProps

    mass = GProp_GProps()
    BRepGProp.VolumeProperties_s(body, mass)
    return float(mass.Mass())


def _solid(shape: Shape) -> Any:
    match shape:
        case Turned(corners):
            return _turned(corners)
        case Strip(angle, width, inner, outer, low, high):
            return _strip(angle, width, inner, outer, low, high)
        case Pin(angle, radius, diameter, low, high):
            x, y = direction(angle)
            return _cylinder((x * radius, y * radius, low), (0, 0, 1), diameter / 2, high - low)
        case Bore(angle, diameter, axis, inner, outer):
            x, y = direction(angle)
            return _cylinder((x * inner, y * inner, axis), (x, y, 0), diameter / 2, outer - inner)
        case Engraving(contours, low, high):
            return _letter(contours, low, high - low)
        case Prism(outline, levels):
            wires = [_wire(edge, z) for edge, (z, _) in zip(_moved(outline, levels), levels, strict=True)]
            return (
                _lofted(wires) if len({by for _, by in levels}) > 1 else _raised(wires[0], levels[-1][0] - levels[0][0])
            )
    raise TypeError(shape)


def _cylinder(
    place: tuple[float, float, float], along: tuple[float, float, float], radius: float, length: float
) -> Any:
    from OCP.BRepPrimAPI import BRepPrimAPI_MakeCylinder
    from OCP.gp import gp_Ax2, gp_Dir, gp_Pnt

    return BRepPrimAPI_MakeCylinder(gp_Ax2(gp_Pnt(*place), gp_Dir(*along)), radius, length).Shape()


def _turned(corners: tuple[Point, ...]) -> Any:
    from OCP.BRepBuilderAPI import BRepBuilderAPI_MakeFace, BRepBuilderAPI_MakePolygon
    from OCP.BRepPrimAPI import BRepPrimAPI_MakeRevol
    from OCP.gp import gp_Ax1, gp_Dir, gp_Pnt

    outline = BRepBuilderAPI_MakePolygon()
    for radius, z in corners:
        outline.Add(gp_Pnt(radius, 0, z))
    outline.Close()
    face = BRepBuilderAPI_MakeFace(outline.Wire()).Face()
    return BRepPrimAPI_MakeRevol(face, gp_Ax1(gp_Pnt(0, 0, 0), gp_Dir(0, 0, 1))).Shape()


def _strip(angle: float, width: float, inner: float, outer: float, low: float, high: float) -> Any:
    from OCP.BRepAlgoAPI import BRepAlgoAPI_Common, BRepAlgoAPI_Cut
    from OCP.BRepBuilderAPI import BRepBuilderAPI_Transform
    from OCP.BRepPrimAPI import BRepPrimAPI_MakeBox
    from OCP.gp import gp_Ax1, gp_Dir, gp_Pnt, gp_Trsf

    box = BRepPrimAPI_MakeBox(gp_Pnt(0, -width / 2, low), gp_Pnt(2 * outer, width / 2, high)).Shape()
    turn = gp_Trsf()
    turn.SetRotation(gp_Ax1(gp_Pnt(0, 0, 0), gp_Dir(0, 0, 1)), radians(angle - 90))
    bar = BRepBuilderAPI_Transform(box, turn).Shape()
    bar = BRepAlgoAPI_Common(bar, _cylinder((0, 0, low), (0, 0, 1), outer, high - low)).Shape()
    if inner <= 0:
        return bar
    return BRepAlgoAPI_Cut(bar, _cylinder((0, 0, low), (0, 0, 1), inner, high - low)).Shape()


def _letter(contours: tuple[tuple[Point, ...], ...], low: float, tall: float) -> Any:
    """The letter's body: outer contours run the other way round than the holes in it."""
    from OCP.BRepAlgoAPI import BRepAlgoAPI_Cut, BRepAlgoAPI_Fuse

    shapes = [(_turns(contour), Outline("polyline", points=tuple((x, -y) for x, y in contour))) for contour in contours]
    first = max(shapes, key=lambda item: abs(item[0]))[0]
    body = None
    for turns, outline in sorted(shapes, key=lambda item: item[0] * first < 0):
        solid = _raised(_wire(outline, low), tall)
        join = BRepAlgoAPI_Fuse if turns * first > 0 else BRepAlgoAPI_Cut
        body = solid if body is None else join(body, solid).Shape()
    return body


def _turns(contour: tuple[Point, ...]) -> float:
    """Twice its area, above zero where it runs from x towards y."""
    return sum(a[0] * b[1] - a[1] * b[0] for a, b in zip(contour, contour[1:] + contour[:1], strict=True))


def _moved(outline: Outline, levels: Sequence[tuple[float, float]]) -> list[Outline]:
    """The outline with its edge moved as at each level, all of as many sides: none of them sharp where one is not."""
    if outline.shape == "polyline":
        return [
            outline._replace(points=tuple((x, -y) for x, y in rings(outline, [by])[0].tolist())) for _, by in levels
        ]
    moved = [grown(outline, by) for _, by in levels]
    least = _SMALL if any(edge.corner for edge in moved) else 0.0
    return [edge._replace(corner=max(edge.corner, least)) for edge in moved]


def _raised(wire: Any, tall: float) -> Any:
    from OCP.BRepBuilderAPI import BRepBuilderAPI_MakeFace
    from OCP.BRepPrimAPI import BRepPrimAPI_MakePrism
    from OCP.gp import gp_Vec

    return BRepPrimAPI_MakePrism(BRepBuilderAPI_MakeFace(wire).Face(), gp_Vec(0, 0, tall)).Shape()


def _lofted(wires: list[Any]) -> Any:
    """A solid through wires of as many edges each, its sides straight."""
    from OCP.BRepOffsetAPI import BRepOffsetAPI_ThruSections

    sections = BRepOffsetAPI_ThruSections(isSolid=True, ruled=True)
    for wire in wires:
        sections.AddWire(wire)
    sections.Build()
    return sections.Shape()


def _wire(outline: Outline, z: float) -> Any:
    """The outline's edge at a height, y towards 6 o'clock: true arcs and ellipses, straight pieces of a polyline."""
    from OCP.BRepBuilderAPI import BRepBuilderAPI_MakeEdge, BRepBuilderAPI_MakePolygon, BRepBuilderAPI_MakeWire
    from OCP.GC import GC_MakeArcOfCircle
    from OCP.gp import gp_Ax2, gp_Circ, gp_Dir, gp_Elips, gp_Pnt

    half_x, half_y, corner = outline.width / 2, outline.height / 2, outline.corner
    if outline.shape == "round":
        circle = gp_Circ(gp_Ax2(gp_Pnt(0, 0, z), gp_Dir(0, 0, 1)), half_x)
        return BRepBuilderAPI_MakeWire(BRepBuilderAPI_MakeEdge(circle).Edge()).Wire()
    if outline.shape == "oval":
        along = gp_Dir(1, 0, 0) if half_x >= half_y else gp_Dir(0, 1, 0)
        axes = gp_Ax2(gp_Pnt(0, 0, z), gp_Dir(0, 0, 1), along)
        ellipse = gp_Elips(axes, max(half_x, half_y), min(half_x, half_y))
        return BRepBuilderAPI_MakeWire(BRepBuilderAPI_MakeEdge(ellipse).Edge()).Wire()
    if outline.shape == "polyline" or not corner:
        straight = BRepBuilderAPI_MakePolygon()
        for x, y in polygon(outline):
            straight.Add(gp_Pnt(float(x), float(y), z))
        straight.Close()
        return straight.Wire()
    wire = BRepBuilderAPI_MakeWire()
    last = gp_Pnt(half_x, corner - half_y, z)
    for i, j, first_turn in ((1, 1, 0), (-1, 1, 90), (-1, -1, 180), (1, -1, 270)):
        middle = i * (half_x - corner), j * (half_y - corner)
        turns = (radians(first_turn + turn) for turn in (0, 45, 90))
        start, half_way, end = (
            gp_Pnt(middle[0] + corner * cos(turn), middle[1] + corner * sin(turn), z) for turn in turns
        )
        if last.Distance(start) > _SAME_POINT:
            wire.Add(BRepBuilderAPI_MakeEdge(last, start).Edge())
        wire.Add(BRepBuilderAPI_MakeEdge(GC_MakeArcOfCircle(start, half_way, end).Value()).Edge())
        last = end
    return wire.Wire()
