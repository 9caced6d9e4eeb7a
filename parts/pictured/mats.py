"""A print of the mat as a PDF at 1:1."""

from __future__ import annotations

from typing import TYPE_CHECKING

from parts.picture.mat import Mat
from parts.picture.mat_drawing import PAPERS, mat_svg
from parts.tools.papers.pdf import to_pdf

if TYPE_CHECKING:
    from parts.models import MatPrint


def mat_pdf(made: MatPrint) -> bytes:
    """The bytes of its sheet."""
    width, height = PAPERS[made.paper]
    drawing = mat_svg(Mat(made.field), number=made.number, paper=made.paper)
    head = "<head><title>Measuring mat</title></head>"
    html = f'<!doctype html><html lang="en">{head}<body class="mat">{drawing}</body></html>'
    return to_pdf(html, size=f"{width}mm {height}mm")
