"""The stem with the crown on it, to scale: where its length L is measured from and to, and where it is cut."""

from collections.abc import Iterator

from parts.fit.answer.report import Report
from parts.fit.drawings.svg import drawing, line, path, rect, text
from parts.fit.levels.stack import stem_diameter

_SIZE = 0.66
"""Height of the letters, mm."""
_BEFORE = 3.8
"""Room for the movement before the stem's reference, mm."""
_BEYOND = 0.9
"""The crown's outer wall beyond the end of the stem, for the look, mm."""
_TAIL = 2.0
"""What is drawn of an uncut stem beyond the first cut, mm."""


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
        -4.4,
        max(end, length + _BEYOND) + 3.8,
        4.2,
        *_movement(),
        *_crown(report, length, half),
        *_stem(report, length, half, end),
        *_length(length, half),
        *_cuts([cut for cut in cuts if cut[0] > length], half),
        title="The stem and its length L",
        description=f"L is {length:.2f} mm, from the stem reference of the movement to the end inside the crown.",
        scale=scale,
        name="stem",
    )


def _movement() -> Iterator[str]:
    yield rect(-_BEFORE, -2.0, -0.25, 2.0, class_="movement")
    yield text(-_BEFORE / 2 - 0.1, -1.2, "movement", _SIZE, "middle")


def _crown(report: Report, length: float, half: float) -> Iterator[str]:
    bore = report.pairing.crown.bore_depth
    inner, far = length - (bore.value if bore.known and bore.value < length else 1.2), length + _BEYOND
    yield path("M", inner, -half, "V", -1.5, "H", far, "V", 1.5, "H", inner, "V", half, class_="crown-outside")
    yield text((inner + length) / 2, 1.2, "crown", _SIZE, "middle")


def _stem(report: Report, length: float, half: float, end: float) -> Iterator[str]:
    uncut = report.pairing.stem.length
    yield rect(-1.8, -half, length, half, class_="stem")
    if uncut.known and uncut.value > length + 0.02:
        reach = min(uncut.value, end)
        torn = (reach - 0.3, 0.0, "L", reach, half) if uncut.value > end else (reach, half)
        yield path("M", length, -half, "H", reach, "L", *torn, "H", length, class_="unknown")


def _length(length: float, half: float) -> Iterator[str]:
    y = 2.8
    yield line(0, -2.3, 0, y + 0.4, class_="reference")
    yield line(length, half, length, y + 0.4, class_="lead")
    yield path("M", 0.0, y, "H", length, "M", 0.0, y - 0.3, "v", 0.6, "M", length, y - 0.3, "v", 0.6, class_="dim")
    yield text(length / 2, y - 0.3, f"L = {length:.2f} mm", _SIZE * 1.25, "middle", class_="value")
    yield text(-_BEFORE, y + 1.15, "from the stem reference to the end in the crown", _SIZE, "start")


def _cuts(cuts: list[tuple[float, str]], half: float) -> Iterator[str]:
    for row, (at, words) in enumerate(cuts):
        y = -3.6 + 0.9 * row
        yield line(at, half, at, y + 0.2, class_="cut-line")
        yield text(at + 0.15, y + 0.2, f"{words} {at:.2f}", _SIZE, "start")
