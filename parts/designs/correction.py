"""What a printer does to dimensions, from the pieces that were measured: scale and offset by least squares.

Across the plate a printer shrinks by a share (the scale) and lays its lines a little too wide: an outside grows by
the offset, an inside shrinks by it. With insides counted below zero both lie on one straight line, measured = offset +
scale times nominal. Heights have a line of their own. Interval factors are Student's. Lengths in mm.
"""

from dataclasses import dataclass, replace
from math import ceil, sqrt

from parts.holder.edges import grown, span_of
from parts.holder.proposals import Measured, Proposed
from parts.models import PrintedPiece
from parts.tools.statistics.straight_line import least_squares
from parts.tools.statistics.student_t import t_factor

CONFIDENCE = 0.95
LEAST_POINTS = 3
LEAST_SPREAD = 5.0
"""Least spread of diameters that tells scale from offset, mm (insides below zero); common practice, no source."""
LEAST_HEIGHT_SPREAD = 1.0
"""The same for heights, mm."""
LEAST_FOR_SPREAD = 5
"""Fewer sizes than this say too little of the spread: Student's factor would be 5 and more. The coupon has five."""
FINEST = 0.01
"""No ± below this, mm: finer than a calliper tells."""
GOOD = 0.05
"""A correction that foretells the next piece this closely is good, mm."""


@dataclass(frozen=True, slots=True)
class Line:
    """measured = offset + scale * nominal with the standard errors of both, from `count` points."""

    scale: float
    offset: float
    scale_error: float
    offset_error: float
    residual: float
    count: int
    mean: float
    squares: float

    def wanted(self, size):
        """The nominal size to print so that the piece measures `size`."""
        return (size - self.offset) / self.scale

    @property
    def factor(self) -> float:
        """By what the scatter is multiplied so that it covers the next piece 19 times of 20."""
        return t_factor(CONFIDENCE, self.count - 2) * sqrt(1 + 1 / self.count)

    def half_width(self, nominal):
        """Half-width of the interval that the next piece's measured size lies in, 19 times of 20."""
        spread = 1 + 1 / self.count + (nominal - self.mean) ** 2 / self.squares
        return t_factor(CONFIDENCE, self.count - 2) * self.residual * sqrt(spread)


@dataclass(frozen=True, slots=True)
class Correction:
    """The lines of one printer and material, None where there is not enough, with what to measure then."""

    printer: str
    material: str
    pieces: int
    across: Line | None
    upward: Line | None
    ask_across: str
    ask_upward: str
    process: str = ""

    @property
    def usable(self):
        return self.across is not None

    @property
    def plus_minus(self) -> float | None:
        """How true the widths of a corrected print come out, ± mm in diameter; None from too few sizes."""
        return _comes_out(self.across)

    @property
    def heights_plus_minus(self) -> float | None:
        """The same of its heights."""
        return _comes_out(self.upward)

    @property
    def spread_in_words(self) -> str:
        """What the ± comes from, or what lacks for it."""
        if self.across is None:
            return ""
        if self.plus_minus is None:
            short = LEAST_FOR_SPREAD - self.across.count
            sizes = f"{short} more size{'s' if short > 1 else ''}"
            return f"Measure {sizes}: then the ± of new designs comes from your prints."
        spread, factor = self.across.residual, self.across.factor
        said = (
            f"Corrected prints come out true to ±{self.plus_minus:.2f} mm: {self.across.count} sizes scatter by "
            f"{spread:.3f} mm, times {factor:.1f} for so few."
        )
        if self.process:
            return f"{said} New designs in {self.process} begin with that."
        return f"{said} Say what they are printed in, and new designs begin with that."

    @property
    def heights_in_words(self) -> str:
        """How true corrected heights come out, or what lacks for saying it."""
        if self.upward is None:
            return ""
        if self.heights_plus_minus is None:
            short = LEAST_FOR_SPREAD - self.upward.count
            return f"Measure {short} more height{'s' if short > 1 else ''}: then their ± comes from your prints too."
        return f"Corrected heights come out true to ±{self.heights_plus_minus:.2f} mm."

    def corrected(self, parameters):
        """The parameters to print by; heights stay where no line for them is known."""
        changed = {}
        for name, sign in _ACROSS.items():
            size = getattr(parameters, name, 0.0)
            if size and self.across:
                changed[name] = self._wanted(size, sign)
            elif (shape := getattr(parameters, name.replace("diameter", "outline"), None)) and self.across:
                changed[name.replace("diameter", "outline")] = self._outline(shape, sign)
        for name in ("height", "thickness"):
            if self.upward and name in parameters.__dataclass_fields__:
                changed[name] = round(self.upward.wanted(getattr(parameters, name)), 3)
        return replace(parameters, **changed)

    def _wanted(self, size, sign):
        return round(sign * self.across.wanted(sign * size), 3)

    def _outline(self, shape, sign):
        """The outline to print by: scaled about the axis, its edge moved by half the offset."""
        if shape.shape == "polyline":
            grown_by = -sign * self.across.offset / 2 / self.across.scale
            points = tuple((x / self.across.scale, y / self.across.scale) for x, y in shape.points)
            return grown(shape._replace(points=points), grown_by)
        width, height = self._wanted(shape.width, sign), self._wanted(shape.height, sign)
        return shape._replace(width=width, height=height, corner=min(shape.corner, width / 2, height / 2))

    def quality(self, parameters):
        """How good the correction is for a piece, in one sentence."""
        half = self.across.half_width(span_of(parameters.outer))
        expectation = f"Expect the next outside diameter within ±{half:.2f} mm, 19 times out of 20."
        if half <= GOOD:
            return f"{expectation} That is close enough."
        return f"{expectation} More test prints, or closer measurements, bring it below ±{GOOD:.2f} mm."


def _comes_out(line: Line | None) -> float | None:
    """How true the next size comes out, ± mm, rounded up: the spread about the line times Student's factor.

    The fewer sizes, the more cautious.
    """
    if line is None or line.count < LEAST_FOR_SPREAD:
        return None
    return max(FINEST, ceil(100 * line.half_width(line.mean) - 1e-9) / 100)


_ACROSS = {"outside_diameter": 1, "nose_diameter": 1, "inside_diameter": -1, "flange_diameter": -1}


def fit_line(points):
    """The Line through (nominal, measured) points; there are at least three and they differ."""
    line = least_squares(points)
    residual = sqrt(line.rests / (line.count - 2))
    error = residual / sqrt(line.squares)
    return Line(
        scale=line.slope,
        offset=line.intercept,
        scale_error=error,
        offset_error=error * sqrt(line.squares / line.count + line.mean_x**2),
        residual=residual,
        count=line.count,
        mean=line.mean_x,
        squares=line.squares,
    )


def correct(printer, material, pieces):
    """The Correction of one printer and material from its PrintedPieces."""
    across = [(p.nominal_outside, p.measured_outside) for p in pieces if p.measured_outside is not None]
    across += [(-p.nominal_inside, -p.measured_inside) for p in pieces if p.measured_inside is not None]
    upward = [(p.nominal_height, p.measured_height) for p in pieces if p.measured_height is not None]
    line, ask = _line_or_ask(across, LEAST_SPREAD, "outside or inside", "one small part and one large, inside too")
    up, ask_up = _line_or_ask(upward, LEAST_HEIGHT_SPREAD, "height", "one low part and one tall")
    latest = max((piece for piece in pieces if piece.process), key=lambda piece: piece.pk or 0, default=None)
    return Correction(printer, material, len(pieces), line, up, ask, ask_up, latest.process if latest else "")


def corrections(pieces):
    """The Correction of every printer and material among the pieces, by name."""
    groups = {}
    for piece in pieces:
        groups.setdefault((piece.printer, piece.material), []).append(piece)
    return [correct(*key, group) for key, group in sorted(groups.items())]


def measured_processes() -> Measured:
    """The ± of each process as the test prints say, of the printer and material that was measured last."""
    measured: dict[str, dict[str, Proposed]] = {}
    prints = PrintedPiece.objects.in_drawers().order_by("created", "pk")
    latest = {(piece.printer, piece.material): i for i, piece in enumerate(prints)}
    known = [item for item in corrections(prints) if item.process and item.plus_minus is not None]
    for item in sorted(known, key=lambda item: latest[item.printer, item.material]):
        note = f"your test prints, {item.printer}, {item.material}: take the corrected files"
        values = {"plus_minus": item.plus_minus, "heights_plus_minus": item.heights_plus_minus}
        measured[item.process] = {name: Proposed(off, note) for name, off in values.items() if off is not None}
    return measured


def _line_or_ask(points, least_spread, what, how):
    if len(points) < LEAST_POINTS:
        short = LEAST_POINTS - len(points)
        return None, f"Measure {short} more {what} size{'s' if short > 1 else ''}."
    spread = max(x for x, _ in points) - min(x for x, _ in points)
    if spread < least_spread:
        return None, f"The {what} sizes lie within {spread:.2f} mm of each other; measure {how}."
    line = fit_line(points)
    if not 0.8 < line.scale < 1.25:
        return None, f"The scale would be {line.scale:.2f}: check for a mistyped {what} size."
    return line, ""
