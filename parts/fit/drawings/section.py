"""Section through the watch along the stem, to scale: crystal up, case back down, depths in mm from the dial seat.

What the sheet does not give (thickness of crystal, back and case wall outside) is drawn broken; what is not measured is
left out and named below the drawing.
"""

from parts.fit.answer.report import Report
from parts.fit.drawings import section_callouts
from parts.fit.drawings.callouts import deal
from parts.fit.drawings.section_numbers import Section
from parts.fit.drawings.section_pieces import pieces_of
from parts.fit.drawings.svg import drawing, el, scale_bar
from parts.fit.records import HANDS

_EMS = 68.0
"""Width of the whole section in letter heights: the labels are as large on a small watch as on a large one."""
_HALF_EMS = 29.0


def section_svg(report: Report, scale: float | None = None) -> str:
    """The whole section with the tight spots marked and dimensioned; empty where nothing of it is measured."""
    s = Section(report)
    return _framed(s, -s.r_edge - 3.6, s.r_edge + 3.6, _EMS, scale)


def section_half_svg(report: Report) -> str:
    """The half with the crown, from just beyond the axis, in letters that a telephone shows large enough."""
    s = Section(report)
    return _framed(s, -2.2, s.r_edge + 3.6, _HALF_EMS)


def _framed(s: Section, left: float, right: float, ems: float, scale: float | None = None) -> str:
    """The section from left to right, that many letter heights wide, with the labels of what is seen there."""
    pieces = "".join(pieces_of(s))
    if not pieces:
        return ""
    upper, lower = ([item for item in labels if item.x >= left] for labels in section_callouts.across(s))
    size = (right - left) / ems
    top_rows = deal(upper, left, right, size)
    low_rows = deal(lower, left, right, size)
    top = s.d_high - 1.6 - 2.9 * size * len(top_rows)
    bottom = s.d_low + 1.7 + 2.9 * size * len(low_rows) + 1.6
    labels = section_callouts.draw(top_rows, left, right, top + 0.2, size, above=True)
    labels += section_callouts.draw(low_rows, left, right, s.d_low + 1.9, size, above=False)
    return drawing(
        left,
        top,
        right,
        bottom,
        pieces,
        labels,
        scale_bar(left + 0.5, bottom - 0.5, 5.0, size),
        title="Section through the watch along the stem",
        description=_told(s.report),
        scale=scale,
        name="section",
    )


def stack_svg(report: Report, scale: float | None = None) -> str:
    """The same section seen close: posts, hub and hands at the centre, with their gaps; empty without a post."""
    s = Section(report)
    if not any(s.depth_above_rest(getattr(s.p.movement.posts, name).height) is not None for name in HANDS):
        return ""
    size, reach = 0.24, 3.6
    callouts = section_callouts.centre(s)
    tops = [s.depth_above_rest(seat.top) for seat in s.p.seating.seats.values()]
    high = min([depth for depth in tops if depth is not None] + [s.d_high]) - 0.3
    low = (s.d_rest if s.d_rest is not None else 1.0) + 0.4
    rows = deal(callouts, -reach, reach, size)
    top = high - 2.9 * size * len(rows) - 0.2
    inside = el(
        "svg",
        *pieces_of(s),
        x=-reach,
        y=high,
        width=2 * reach,
        height=low - high,
        viewBox=f"{-reach} {high:.4f} {2 * reach} {low - high:.4f}",
    )
    return drawing(
        -reach,
        top,
        reach,
        low + 0.5,
        inside,
        section_callouts.draw(rows, -reach, reach, top + 0.05, size, above=True),
        scale_bar(-reach + 0.2, low + 0.35, 1.0, size),
        title="Hands, close up",
        description="Posts, hubs and hands at the centre of the same section, with the gaps between them.",
        scale=scale,
        name="stack",
    )


def _told(report: Report) -> str:
    spacer = report.pairing.stack.thickness
    where = "in front of" if report.pairing.stack.placement == "front" else "behind"
    says = f"A {spacer:.2f} mm spacer sits {where} the dial." if spacer else "No spacer."
    return f"Crystal above, case back below, stem and crown to the right. {says} {report.why}"
