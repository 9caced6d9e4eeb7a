"""Reads written files back with nothing of the writers: the bytes alone, and Debian's admesh."""

import io
import re
import struct
import subprocess
import xml.etree.ElementTree as ET
import zipfile
from collections import Counter

NS = "{http://schemas.microsoft.com/3dmanufacturing/core/2015/02}"


def read_stl(data):
    """The triangles of a binary STL as triples of corners."""
    (count,) = struct.unpack_from("<I", data, 80)
    assert len(data) == 84 + 50 * count
    found = []
    for i in range(count):
        numbers = struct.unpack_from("<12fH", data, 84 + 50 * i)
        found.append(tuple(numbers[3 + 3 * k : 6 + 3 * k] for k in range(3)))
    return found


def read_3mf(data):
    """The unit and the triangles of a 3MF package with one object."""
    with zipfile.ZipFile(io.BytesIO(data)) as archive:
        assert archive.testzip() is None
        assert set(archive.namelist()) == {"[Content_Types].xml", "_rels/.rels", "3D/3dmodel.model"}
        root = ET.fromstring(archive.read("3D/3dmodel.model"))
    points = [tuple(float(v.get(axis)) for axis in "xyz") for v in root.iter(f"{NS}vertex")]
    faces = [[int(t.get(name)) for name in ("v1", "v2", "v3")] for t in root.iter(f"{NS}triangle")]
    assert len(set(points)) == len(points)
    return root.get("unit"), [tuple(points[i] for i in face) for face in faces]


def faults_of(triangles):
    """How many directed edges do not occur exactly once with exactly one counterpart; 0 for a closed surface."""
    edges = Counter((a, b) for t in triangles for a, b in zip(t, t[1:] + t[:1], strict=True))
    return sum(count != 1 or edges[(b, a)] != 1 for (a, b), count in edges.items())


def volume_of(triangles):
    """Sum of the tetrahedra to the origin."""

    def six(a, b, c):
        return (
            a[0] * (b[1] * c[2] - b[2] * c[1]) - a[1] * (b[0] * c[2] - b[2] * c[0]) + a[2] * (b[0] * c[1] - b[1] * c[0])
        )

    return sum(six(*t) for t in triangles) / 6


def admesh(path):
    """What admesh says of an STL: parts, volume, and every repair that it would have made.

    It prints whatever lies in its memory behind the file's header, which need not be text.
    """
    run = subprocess.run(["admesh", str(path)], capture_output=True, text=True, errors="replace", check=True)

    def number(words):
        return float(re.search(rf"{words}\s*:\s*([-\d.]+)", run.stdout)[1])

    repairs = ["Degenerate facets", "Edges fixed", "Facets removed", "Facets added", "Facets reversed"]
    repairs += ["Backwards edges", "Normals fixed", "Total disconnected facets"]
    return number("Number of parts"), number("Volume"), {words: number(words) for words in repairs}
