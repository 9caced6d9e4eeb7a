"""Binary STL and 3MF, written small and strict: millimetres, every corner once in 3MF, no empty triangles.

Sources: the binary STL layout as every slicer reads it (80 bytes, count, 50 bytes a triangle, little endian);
3MF Core Specification 1.3, sections 2 to 4.
"""

import io
import zipfile
from xml.sax.saxutils import quoteattr

import numpy as np

from parts.holder.mesh import Mesh

_ROW = np.dtype([("normal", "<f4", 3), ("corners", "<f4", (3, 3)), ("attributes", "<u2")])
_FIXED = (1980, 1, 1, 0, 0, 0)
_TYPES = """<?xml version="1.0" encoding="UTF-8"?>
<Types xmlns="http://schemas.openxmlformats.org/package/2006/content-types">\
<Default Extension="rels" ContentType="application/vnd.openxmlformats-package.relationships+xml"/>\
<Default Extension="model" ContentType="application/vnd.ms-package.3dmanufacturing-3dmodel+xml"/></Types>"""
_RELATIONS = """<?xml version="1.0" encoding="UTF-8"?>
<Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships">\
<Relationship Target="/3D/3dmodel.model" Id="model" \
Type="http://schemas.microsoft.com/3dmanufacturing/2013/01/3dmodel"/></Relationships>"""


def stl(mesh: Mesh) -> bytes:
    """The mesh as binary STL."""
    rows = np.zeros(len(mesh.faces), _ROW)
    corners = mesh.points[mesh.faces].astype(float)
    normals = np.cross(corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0])
    lengths = np.linalg.norm(normals, axis=1, keepdims=True)
    rows["normal"] = np.divide(normals, lengths, out=np.zeros_like(normals), where=lengths > 0)
    rows["corners"] = corners
    return b"Dialside, lengths in mm".ljust(80) + np.uint32(len(rows)).tobytes() + rows.tobytes()


def threemf(mesh: Mesh, title: str) -> bytes:
    """The mesh as a 3MF package with one object; the same mesh gives the same bytes.

    Nine digits tell any two numbers of single precision apart, so that no two corners are the same.
    """
    points = "".join(f'<vertex x="{x:.9g}" y="{y:.9g}" z="{z:.9g}"/>' for x, y, z in mesh.points.tolist())
    faces = "".join(f'<triangle v1="{a}" v2="{b}" v3="{c}"/>' for a, b, c in mesh.faces.tolist())
    model = (
        '<?xml version="1.0" encoding="UTF-8"?>\n'
        '<model unit="millimeter" xml:lang="en" xmlns="http://schemas.microsoft.com/3dmanufacturing/core/2015/02">'
        f'<resources><object id="1" type="model" name={quoteattr(title)}><mesh><vertices>{points}</vertices>'
        f"<triangles>{faces}</triangles></mesh></object></resources>"
        '<build><item objectid="1"/></build></model>'
    )
    package = io.BytesIO()
    with zipfile.ZipFile(package, "w", zipfile.ZIP_DEFLATED) as archive:
        for name, text in (("[Content_Types].xml", _TYPES), ("_rels/.rels", _RELATIONS), ("3D/3dmodel.model", model)):
            archive.writestr(zipfile.ZipInfo(name, _FIXED), text, zipfile.ZIP_DEFLATED)
    return package.getvalue()
