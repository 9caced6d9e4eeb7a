"""What an outside slicer makes of an STL: Debian's cura-engine, its paths read back out of the program for the printer.

It is told to lay a single line of LINE, so that its path is the outline of the cut, half a line inside. Of all else
that it asks for it gets 0: it finishes nothing and heats nothing, it cuts. It is given the piece LARGER, and its layers
too, since it joins what lies nearer together than some hundredths of a millimetre.
"""

import json
import re
import subprocess
from pathlib import Path
from tempfile import TemporaryDirectory

from shapely import Polygon, affinity

from parts.holder.files.mesh_files import stl
from parts.holder.mesh import Mesh

LINE = 0.01
LARGER = 10
SETTINGS = {
    "extruders_enabled_count": 1,
    "initial_layer_line_width_factor": 100,
    "line_width": LINE,
    "machine_center_is_zero": "true",
    "machine_depth": 1000,
    "machine_extruder_count": 1,
    "machine_height": 1000,
    "machine_shape": "rectangular",
    "machine_width": 1000,
    "material_diameter": 1.75,
    "material_shrinkage_percentage": 100,
    "mesh_rotation_matrix": "[[1,0,0],[0,1,0],[0,0,1]]",
    "retraction_combing": "off",
    "slicing_tolerance": "middle",
    "wall_0_material_flow": 100,
    "wall_line_count": 1,
    "wall_line_width_0": LINE,
}
"""A layer is cut at its middle, as slicers do where nobody says otherwise."""
ASKED_FOR = (Path(__file__).parent / "slicer_settings.txt").read_text().split()
"""The names of all that the slicer asks for."""
COMMAND = ["CuraEngine", "slice", "-j", "plain.def.json", "-e0", "-l", "piece.stl", "-o", "piece.gcode"]


def sliced(mesh: Mesh, *, layer: float, first: float) -> list[Polygon]:
    """The piece's layers from the plate up, mm, each as the area that is printed; layers without any are left out."""
    with TemporaryDirectory() as name:
        folder = Path(name)
        (folder / "piece.stl").write_bytes(stl(Mesh(mesh.points * LARGER, mesh.faces)))
        heights = {"layer_height": layer * LARGER, "layer_height_0": first * LARGER}
        told = dict.fromkeys(ASKED_FOR, 0) | SETTINGS | heights
        described = {name: {"default_value": str(value), "type": "str"} for name, value in told.items()}
        (folder / "plain.def.json").write_text(json.dumps({"name": "plain", "version": 2, "settings": described}))
        answer = subprocess.run(COMMAND, cwd=folder, capture_output=True, text=True, check=False)
        assert answer.returncode == 0, answer.stderr
        program = (folder / "piece.gcode").read_text()
    layers = (_area(part) for part in program.split(";LAYER:")[1:])
    return [area for area in layers if not area.is_empty]


def _area(part):
    """The area within the closed paths of one layer's program: what is inside an odd number of them."""
    paths = [[]]
    for move, x, y in re.findall(r"^G([01]) .*?X(-?[\d.]+) Y(-?[\d.]+)", part, re.MULTILINE):
        if move == "0":
            paths.append([])
        paths[-1].append((float(x), float(y)))
    area = Polygon()
    for path in paths:
        if len(path) > 3:
            area = area.symmetric_difference(Polygon(path).buffer(0))
    outline = area.buffer(LINE / 2, join_style="mitre")
    return affinity.scale(outline, 1 / LARGER, 1 / LARGER, origin=(0, 0))
