"""The files of a design: their bytes, their kinds, their names."""

from __future__ import annotations

from typing import TYPE_CHECKING

from django.utils.text import slugify

from parts.designs.revisions import parameters_of
from parts.holder.coupon import coupon
from parts.holder.drawings import plan_svg, section_svg, walls_svg
from parts.holder.files import mesh_files, step
from parts.holder.files.dxf import dxf
from parts.holder.findings.design import work_out
from parts.holder.mesh import body_of, for_printing, mesh_of
from parts.holder.process import upside_down
from parts.tools.papers.drawn import with_styles

if TYPE_CHECKING:
    from parts.holder.parameters import Made
    from parts.models import HolderDesign

SVG_SCALE = 5
"""SVG files state their size in mm at this scale, so that the figures can be read."""
TYPES = {
    "stl": "model/stl",
    "3mf": "model/3mf",
    "step": "model/step",
    "dxf": "image/vnd.dxf",
    "plan.svg": "image/svg+xml",
    "section.svg": "image/svg+xml",
    "walls.svg": "image/svg+xml",
}
_DRAWN = {"plan.svg": plan_svg, "section.svg": section_svg}


def file_body(parameters, around, ending, title):
    """The bytes of a file. ModuleNotFoundError for STEP where its kernel is not installed."""
    if ending in ("stl", "3mf"):
        mesh = for_printing(body_of(parameters).mesh, upside_down=upside_down(parameters))
        return mesh_files.stl(mesh) if ending == "stl" else mesh_files.threemf(mesh, title)
    if ending == "step":
        return step.step_file(parameters, title)
    design = work_out(parameters, around)
    if ending == "dxf":
        return dxf(design, title).encode()
    svg = _DRAWN[ending](design, around, SVG_SCALE) if ending in _DRAWN else walls_svg(design, 2 * SVG_SCALE)
    return with_styles(svg).encode()


def coupon_body(made: Made, ending: str) -> bytes:
    """The bytes of the coupon's file, as STL or 3MF."""
    mesh = for_printing(mesh_of(coupon(made)), upside_down=False)
    return mesh_files.stl(mesh) if ending == "stl" else mesh_files.threemf(mesh, "Coupon")


def mesh_bytes(parameters):
    """The mesh in the watch's own frame as binary STL, for looking at."""
    return mesh_files.stl(body_of(parameters).mesh)


def volume_of(design: HolderDesign) -> float:
    """The volume of a kept design's body, mm³."""
    return body_of(parameters_of(design)).mesh.volume


def file_name(design: HolderDesign, ending: str, *, printer: str = "", material: str = "") -> str:
    """Family, movement and revision in a name that any disk takes."""
    words = [design.kind, str(design.family), str(design.movement), f"r{design.revision}", printer, material]
    return f"{slugify(' '.join(words))[:100]}.{ending}"
