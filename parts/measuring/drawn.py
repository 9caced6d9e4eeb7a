"""A sketch as a drawing of its own, for paper: its outline, its arrows and its colours in one SVG."""

from __future__ import annotations

import re
from functools import cache
from typing import TYPE_CHECKING

from django.template.loader import render_to_string
from django.utils.safestring import SafeString, mark_safe

from parts.library.kinds import KIND_OF

if TYPE_CHECKING:
    from parts.library.sketches import Sketch

_LOOK = (
    "path,circle{fill:none;stroke:#6d6a5c;stroke-width:1.6;stroke-linejoin:round}.solid{fill:#e9e5dc}"
    ".plain{fill:#fff}.glass{fill:#eef4f7}.thin{stroke-width:.9}.datum{stroke:#33404d;stroke-width:2}"
    ".axis{stroke-width:.9;stroke-dasharray:7 2 1.5 2}.hidden-line{stroke-dasharray:3 2}"
    ".numeral{stroke:#1d2733;stroke-width:3}.mark{fill:#33404d}.line{stroke-width:1.6}"
    ".arrow{stroke:#0b5566;stroke-width:3}.head{fill:#0b5566;stroke:#0b5566;stroke-width:1.5}"
    ".guide{stroke:#0b5566;stroke-width:1}"
)


@cache
def sketch_svg(sketch: Sketch) -> SafeString:
    """The drawing; its size is given by what it stands in."""
    marks, outline = sketch.marks, _outlines()[sketch.outline]
    return mark_safe(
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 140 100"><style>{_LOOK}</style>{outline}'
        f'<path class="guide" d="{marks.guides}"/><path class="arrow" d="{marks.lines}"/>'
        f'<path class="head" d="{marks.heads}"/></svg>'
    )


@cache
def _outlines() -> dict[str, str]:
    """What each outline's symbol holds, by its name."""
    files = {kind.outlines for kind in KIND_OF.values()}
    symbols = (
        symbol
        for file in sorted(files)
        for symbol in re.findall(
            r'<symbol id="outline-([\w-]+)"[^>]*>(.*?)</symbol>', render_to_string(file), re.DOTALL
        )
    )
    return dict(symbols)
