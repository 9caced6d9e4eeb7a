"""The stem with the crown on it, to scale: where its length L is measured from and to, and where it is cut."""

from collections.abc import Iterator

from parts.fit.answer.report import Report
from parts.fit.checks.height import stem_diameter
from parts.fit.drawings.svg import HAIR, INK, SOFT, STEEL, drawing, el, line, path, rect, text

_SIZE = 0.62
"""Height of the letters, mm."""
_BEFORE = 3.4
"""Room for the movement before the stem's reference, mm."""
_TAIL = 2.6
"""What is drawn of the rest of an uncut stem beyond the first cut, mm."""


def stem_svg(report: Report, scale: float | None = None) -> str:
    """Movement, stem and crown along the stem; empty where L is not known."""
    length = report.stem.length
    if length is None or length <= 0:
        return ""
    half = (stem_diameter(report.pairing.sheet).value or 0.9) / 2
    cuts = [(step.length, step.text.partition(",")[0].partition(" and ")[0]) for step in report.stem.steps]
    end = max([length, *(at for at, _ in cuts)]) + _TAIL
    return drawing(
        -_BEFORE,
        -4.3,
        max(end, length + 0.9) + 3.4,
        3.9,
        *_movement(half),
        *_stem(report, length, half, end),
        *_length(length),
        *_cuts(cuts, half),
        title="The stem and its length L",
        description=f"L is {length:.2f} mm, from the stem reference of the movement to the end inside the crown.",
        scale=scale,
        name="stem",
    )


def _movement(half: float) -> Iterator[str]:
    yield rect(-_BEFORE, -1.9, -half / 2, 1.9, fill="#e7e9ea", stroke=SOFT, stroke_width=0.05)
    yield text(-_BEFORE / 2 - 0.2, -1.1, "movement", _SIZE)
    yield line(0, -2.2, 0, 3.5, stroke=INK, stroke_width=0.06, stroke_dasharray="0.3 0.2")
    yield text(0.15, 3.6, "stem reference: L counts from here", _SIZE, "start")


def _stem(report: Report, length: float, half: float, end: float) -> Iterator[str]:
    bore = report.pairing.crown.bore_depth
    crown = length - bore.value if bore.known and bore.value < length else length - 1.2
    thread = report.pairing.stem.thread_length
    uncut = report.pairing.stem.length
    reach = end if uncut.known and uncut.value > end else max(length, uncut.value or length)
    yield rect(-1.6, -half, length, half, fill=STEEL, stroke=SOFT, stroke_width=0.05, class_="stem")
    if reach > length + 0.02:
        look = {"fill": "none", "stroke": SOFT, "stroke_width": 0.06, "stroke_dasharray": "0.2 0.15"}
        torn = (reach, -half, "L", reach - 0.3, 0.0, "L", reach, half)
        yield path("M", length, -half, "L", *torn, "L", length, half, **look)
    turns = min(thread.value, length) if thread.known else length - crown
    at = length
    while at > length - turns + 0.1:
        yield line(at, -half, at - 0.18, half, stroke=SOFT, stroke_width=0.04)
        at -= 0.3
    look = {"fill": "none", "stroke": INK, "stroke_width": 0.08}
    far = length + 0.9
    outside = (crown, -1.5, "L", far, -1.5, "L", far, 1.5, "L", crown, 1.5)
    yield path("M", crown, -half, "L", *outside, "L", crown, half, **look)
    yield line(length, -half, length, half, stroke=INK, stroke_width=0.08)
    yield text((crown + length + 0.9) / 2, -1.75, "crown", _SIZE)


def _length(length: float) -> Iterator[str]:
    y, look = 2.5, {"stroke": INK, "stroke_width": 0.06}
    ticks = (line(at, y - 0.25, at, y + 0.25, **look) for at in (0.0, length))
    yield el("g", line(0, y, length, y, **look), *ticks)
    yield line(length, 0.5, length, y + 0.25, stroke=HAIR, stroke_width=0.04)
    yield text(length / 2, y - 0.25, f"L = {length:.2f} mm", _SIZE * 1.2, halo=0.2, font_weight="600")


def _cuts(cuts: list[tuple[float, str]], half: float) -> Iterator[str]:
    for row, (at, words) in enumerate(cuts[:2]):
        y = -2.7 - 0.85 * (1 - row)
        yield line(at, half, at, y + 0.15, stroke=INK, stroke_width=0.05, stroke_dasharray="0.15 0.1")
        yield text(at + 0.12, y + 0.1, f"{words} {at:.2f}", _SIZE, "start", halo=0.2)
