"""True STEP of a piece for further drafting, by the OpenCASCADE kernel; an optional extra of about 300 MB.

`uv pip install --group step` brings it (see DEVELOPERS.md); Debian needs libgl1 for it.
"""

import tempfile
from importlib.util import find_spec
from math import radians
from pathlib import Path
from typing import Any

from parts.holder.mesh import sound_steps
from parts.holder.parameters import Piece
from parts.holder.shapes import Bore, Pin, Point, Shape, Strip, Turned, direction

MISSING = "STEP needs an optional extra: run “make step” once and start again. STL, 3MF and DXF work without it."


def installed() -> bool:
    """Whether the kernel is there."""
    return find_spec("OCP") is not None


def step_file(parameters: Piece) -> bytes:
    """The STEP file's bytes, lengths in mm. ModuleNotFoundError where the kernel is not installed."""
    from OCP.BRepAlgoAPI import BRepAlgoAPI_Cut, BRepAlgoAPI_Fuse
    from OCP.IFSelect import IFSelect_RetDone
    from OCP.Message import Message, Message_PrinterOStream
    from OCP.STEPControl import STEPControl_AsIs, STEPControl_Writer

    body = None
    for step in sound_steps(parameters):
        solid = _solid(step.solid)
        join = BRepAlgoAPI_Cut if step.cut else BRepAlgoAPI_Fuse
        body = solid if body is None else join(body, solid).Shape()
    Message.DefaultMessenger_s().RemovePrinters(Message_PrinterOStream.get_type_descriptor_s())
    writer = STEPControl_Writer()
    writer.Transfer(body, STEPControl_AsIs)
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "piece.step"
        if writer.Write(str(path)) != IFSelect_RetDone:
            raise OSError("the STEP file could not be written")
        return path.read_bytes()


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
