"""An outline read from a drawing: the closed line in it that encloses most, as points about the hands' axis.

A DXF drawing has the axis at its origin, an SVG drawing in the middle of its picture. Curves become straight pieces
within a thousandth of a millimetre.
"""

from __future__ import annotations

import io
import xml.etree.ElementTree as ET
from collections.abc import Callable, Iterator
from itertools import pairwise
from math import ceil, cos, hypot, pi, sin
from typing import Any

from django.core.exceptions import ValidationError
from django.utils.translation import gettext_lazy as lazy

Points = list[tuple[float, float]]
MOST_BYTES = 2_000_000
_CUT = 0.0005
"""How far a straight piece may be off its curve, mm."""
_GAP = 0.01
"""Ends nearer than this, mm, are one."""
_UNITS = {1: 25.4, 4: 1.0, 5: 10.0}
"""mm of a DXF drawing's unit: inches, millimetres, centimetres; one that says nothing is in mm."""


def read_outline_file(name: str, content: bytes) -> list[list[float]]:
    """The points of the outline in a DXF or SVG file; ValidationError, in a sentence, for what cannot be read."""
    readers: dict[str, Callable[[bytes], Iterator[Points]]] = {"dxf": _dxf, "svg": _svg}
    reader = readers.get(name.rpartition(".")[2].casefold())
    if reader is None:
        raise ValidationError(
            lazy("“{name}” is no DXF and no SVG drawing. Save the outline as one of these.").format(name=name)
        )
    if len(content) > MOST_BYTES:
        raise ValidationError(lazy("This drawing is larger than 2 MB. Save the outline alone."))
    try:
        loops = [loop for loop in reader(content) if len(loop) >= 3]
    except ValidationError:
        raise
    except Exception as error:
        raise ValidationError(
            lazy("“{name}” cannot be read as a drawing. Save it once more and try again.").format(name=name)
        ) from error
    if not loops:
        raise ValidationError(lazy("“{name}” has no closed line. Close the outline in the drawing.").format(name=name))
    largest = max(loops, key=_area)
    return [[round(x, 5), round(y, 5)] for x, y in largest]


def _area(loop: Points) -> float:
    return abs(sum(a[0] * b[1] - a[1] * b[0] for a, b in pairwise([*loop, loop[0]])))


def _dxf(content: bytes) -> Iterator[Points]:
    from ezdxf import path, recover

    document, _ = recover.read(io.BytesIO(content))
    scale = _UNITS.get(document.header.get("$INSUNITS", 4), 1.0)
    strokes: list[Points] = []
    for entity in document.modelspace():
        try:
            line = path.make_path(entity)
        except TypeError:
            continue
        points = [(point.x * scale, point.y * scale) for point in line.flattening(_CUT / scale)]
        if len(points) > 1:
            strokes.append(points)
    yield from _joined(strokes)


def _joined(strokes: list[Points]) -> Iterator[Points]:
    """Strokes whose ends meet, as closed lines."""
    left = list(strokes)
    while left:
        line = left.pop()
        while not _met(line[0], line[-1]):
            meeting = (stroke for stroke in left if _met(line[-1], stroke[0]) or _met(line[-1], stroke[-1]))
            following = next(meeting, None)
            if following is None:
                break
            left.remove(following)
            line = line + (following[1:] if _met(line[-1], following[0]) else following[-2::-1])
        if len(line) > 3 and _met(line[0], line[-1]):
            yield line[:-1]


def _met(a: tuple[float, float], b: tuple[float, float]) -> bool:
    return hypot(a[0] - b[0], a[1] - b[1]) < _GAP


def _svg(content: bytes) -> Iterator[Points]:
    if b"<!DOCTYPE" in content or b"<!ENTITY" in content:
        raise ValidationError(lazy("This drawing has declarations of its own. Save it as plain SVG."))
    root = ET.fromstring(content)
    place = _placed(root)
    if any(element.get("transform") for element in root.iter()):
        raise ValidationError(lazy("This drawing has moved or turned groups. Ungroup all, and save it as plain SVG."))
    for element in root.iter():
        for loop in _shapes(element.tag.rpartition("}")[2], element.attrib):
            yield [place(x, y) for x, y in loop]


def _placed(root: ET.Element) -> Callable[[float, float], tuple[float, float]]:
    """From the drawing's own places to mm about its middle, y upwards."""
    box = [float(number) for number in root.get("viewBox", "").replace(",", " ").split()]
    wide = root.get("width", "")
    units = {"mm": 1.0, "cm": 10.0, "in": 25.4, "px": 25.4 / 96, "": 25.4 / 96 if not box else 1.0}
    unit = next(unit for unit in units if wide.endswith(unit))
    width = float(wide.removesuffix(unit)) * units[unit] if wide and not wide.endswith("%") else None
    if not box:
        if width is None:
            raise ValidationError(lazy("This drawing does not say how large it is. Save it with its width in mm."))
        high = float(root.get("height", wide).removesuffix(unit))
        box = [0.0, 0.0, float(wide.removesuffix(unit)), high]
    scale = width / box[2] if width else 1.0
    middle_x, middle_y = box[0] + box[2] / 2, box[1] + box[3] / 2
    return lambda x, y: ((x - middle_x) * scale, (middle_y - y) * scale)


def _shapes(tag: str, look: dict[str, str]) -> Iterator[Points]:
    def at(name: str) -> float:
        return float(look.get(name, "0") or 0)

    if tag == "path":
        yield from _paths(look.get("d", ""))
    elif tag in ("polygon", "polyline"):
        numbers = [float(number) for number in look.get("points", "").replace(",", " ").split()]
        yield list(zip(numbers[::2], numbers[1::2], strict=True))
    elif tag in ("circle", "ellipse"):
        rx, ry = at("rx") or at("r"), at("ry") or at("r")
        count = max(12, ceil(pi / (2 * _CUT / max(rx, ry)) ** 0.5)) if max(rx, ry) else 0
        turns = [2 * pi * i / count for i in range(count)]
        yield [(at("cx") + rx * cos(turn), at("cy") + ry * sin(turn)) for turn in turns]
    elif tag == "rect":
        rx = at("rx") or at("ry")
        x, y, wide, high = at("x"), at("y"), at("width"), at("height")
        arc = f"a{rx} {rx} 0 0 1" if rx else "l"
        corners = f"{arc} {rx} {rx}v{high - 2 * rx}{arc} {-rx} {rx}h{2 * rx - wide}{arc} {-rx} {-rx}v{2 * rx - high}"
        yield from _paths(f"M{x + rx} {y}h{wide - 2 * rx}{corners}{arc} {rx} {-rx}Z")


def _paths(steps: str) -> Iterator[Points]:
    from fontTools.pens.recordingPen import DecomposingRecordingPen
    from fontTools.svgLib.path.parser import parse_path

    pen: Any = DecomposingRecordingPen({})
    parse_path(steps, pen)
    line: Points = []
    for word, places in pen.value:
        if word == "moveTo":
            line = [places[0]]
        elif word == "lineTo":
            line.append(places[0])
        elif word in ("curveTo", "qCurveTo"):
            line += _curve([line[-1], *places])
        if word in ("closePath", "endPath") and len(line) > 3:
            if word == "closePath" or _met(line[0], line[-1]):
                yield line[:-1] if _met(line[0], line[-1]) else line
            line = []


def _curve(control: Points) -> Points:
    """Points along a Bézier curve after its start, by de Casteljau's construction."""
    reach = sum(hypot(b[0] - a[0], b[1] - a[1]) for a, b in pairwise(control))
    count = max(4, ceil((reach / (8 * _CUT)) ** 0.5 * 2))
    curve = []
    for i in range(1, count + 1):
        share, points = i / count, control
        while len(points) > 1:
            points = [(a[0] + share * (b[0] - a[0]), a[1] + share * (b[1] - a[1])) for a, b in pairwise(points)]
        curve.append(points[0])
    return curve
