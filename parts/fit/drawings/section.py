"""Section through the watch along the stem, to scale: crystal up, case back down, depths in mm from the dial seat.

What the sheet does not give (thickness of crystal, back and case wall outside) is drawn broken; what is not measured is
left out and named below the drawing.
"""

from collections.abc import Collection, Iterator
from zlib import crc32

from parts.fit.answer.report import Report
from parts.fit.drawings import section_callouts
from parts.fit.drawings.callouts import ROW, Press, deal, draw_level, draw_upright, rows_of, spread
from parts.fit.drawings.section_numbers import Section
from parts.fit.drawings.section_pieces import centre_pieces_of, known, pieces_of
from parts.fit.drawings.svg import drawing, el, line, scale_bar, text
from parts.fit.records import HANDS, fitted

_EMS = 54.0
"""Width of the whole section in letter heights: 12 px or more from a window of 700 px on."""
_HALF_EMS = 28.0
_CLOSE_EMS = 28.0
"""The same of what a telephone shows, 340 px wide or more."""


def section_svg(
    report: Report, scale: float | None = None, *, press: Press | None = None, staying: Collection[str] = ()
) -> str:
    """The whole section with the tight spots marked and dimensioned; empty where nothing of it is measured.

    `staying` names the hands that stay with the watch.
    """
    s = Section(report, staying)
    pieces = "".join(pieces_of(s))
    # Where the half borrows them, style sheets see them without what they stand in here: so the class on themselves.
    cut = el("g", pieces, id=_key(pieces), class_="drawing") if pieces else ""
    return _framed(s, -s.r_edge - 3.6, s.r_edge + 3.6, _EMS, cut, press, scale)


def section_half_svg(
    report: Report, *, press: Press | None = None, staying: Collection[str] = (), beside_whole: bool = False
) -> str:
    """The half with the crown, from just beyond the axis, in letters that a telephone shows large enough.

    `beside_whole` borrows the shapes of the whole section, which has to stand on the same page.
    """
    s = Section(report, staying)
    pieces = "".join(pieces_of(s))
    cut = pieces and (el("use", href=f"#{_key(pieces)}") if beside_whole else pieces)
    return _framed(s, -2.2, s.r_edge + 3.6, _HALF_EMS, cut, press)


def section_plain_svg(report: Report) -> str:
    """The whole section without a word or a number, for a site; empty where nothing of it is measured."""
    s = Section(report, ())
    pieces = "".join(pieces_of(s))
    side = s.r_edge + 3.6
    edges = (-side, s.d_high - 1.0, side, s.d_low + 1.0)
    title, below = "Section through the watch", "Crystal above, case back below."
    return drawing(*edges, pieces, title=title, description=below, name="section") if pieces else ""


def _key(pieces: str) -> str:
    return f"cut-{crc32(pieces.encode()):x}"


def _framed(
    s: Section, left: float, right: float, ems: float, pieces: str, press: Press | None, scale: float | None = None
) -> str:
    """The section from left to right, that many letter heights wide, with the labels of what is seen there."""
    if not pieces:
        return ""
    upper, lower = ([item for item in labels if item.x >= left] for labels in section_callouts.across(s))
    size, whole = (right - left) / ems, left < -s.r_edge
    above, below = deal(upper, left, right, size), deal(lower, left, right, size)
    high, low = s.d_high - 1.3, s.d_low + 1.3
    top = high - ROW * size * rows_of(above) - 0.4 * size
    bottom = low + ROW * size * rows_of(below) + 1.5 * size
    return drawing(
        left,
        top,
        right,
        bottom,
        pieces,
        *_names(s, left, size),
        draw_upright(above, high, size, above=True, press=press),
        draw_upright(below, low, size, above=False, press=press),
        scale_bar(left + 0.3 * size, bottom - 0.3 * size, 5.0, size),
        title="Section through the watch along the stem",
        description=_told(s.report) if whole else "The crown half of the same section.",
        scale=scale,
        letters=size,
        pressable=press is not None,
        name="section" if whole else "half",
    )


def _names(s: Section, left: float, size: float) -> Iterator[str]:
    """The parts' names, where there is room for them."""
    middle = max(-0.45 * s.r_edge, left + 3.0 * size)
    if s.crystal[0].known and s.r_opening is not None:
        yield text(middle, s.d_high - 0.15, "crystal", anchor="middle", class_="name")
    if known(s.front, s.d_dial_back, s.r_dial) and left < -s.r_edge:
        yield text(middle, s.front - 0.3 * size, "dial", anchor="middle", class_="name")
    if known(s.d_rest, s.d_back, s.r_fit):
        y = s.d_rest + 0.65 * (s.d_back - s.d_rest) + 0.35 * size
        yield text(middle, y, "movement", anchor="middle", class_="name")
    if known(s.d_stem, s.r_stem):
        yield text(s.r_edge + 3.4, s.d_stem - 1.3 - 0.3 * size, "crown", anchor="end", class_="name")


def stack_svg(
    report: Report, scale: float | None = None, *, press: Press | None = None, staying: Collection[str] = ()
) -> str:
    """The same section seen close: posts, hubs and hands, their heights and gaps; empty without a post."""
    s = Section(report, staying)
    if not any(s.depth_above_rest(getattr(s.p.movement.posts, name).height) is not None for name in HANDS):
        return ""
    reach = 2.6
    size = 2 * reach / (_CLOSE_EMS - 17.2)
    left, right = -reach - 7.0 * size, reach + 10.2 * size
    callouts = section_callouts.centre(s)
    tops = [s.depth_above_rest(seat.top) for seat in s.p.seating.seats.values()]
    high = min([depth for depth in tops if depth is not None] + [s.d_high]) - 0.3
    low = (s.d_rest if s.d_rest is not None else 1.0) + 0.4
    bottom = max(low, high + 2.75 * size * len(callouts))
    inside = el(
        "svg",
        *centre_pieces_of(s),
        x=-reach,
        y=high,
        width=2 * reach,
        height=low - high,
        viewBox=f"{-reach} {high:.3f} {2 * reach} {low - high:.3f}",
    )
    return drawing(
        left,
        high - 1.6 * size,
        right,
        bottom + 1.5 * size,
        inside,
        *_heights(s, -reach, left, high, bottom, size),
        draw_level(callouts, reach + 0.2 * size, reach + 1.2 * size, high - size, bottom, size, press),
        scale_bar(-reach, bottom + 1.2 * size, 1.0, size),
        title="Hands, close up",
        description="Posts, hubs and hands at the centre of the same section, with the gaps between them.",
        scale=scale,
        letters=size,
        pressable=press is not None,
        name="stack",
    )


def _heights(s: Section, edge: float, left: float, high: float, low: float, size: float) -> Iterator[str]:
    """The tops of the hands above the dial, at the left, in the order of their heights."""
    rows = [("dial 0", s.front)] if s.front is not None else []
    for name, _ in fitted(s.p.hands):
        top, height = s.depth_above_rest(s.p.seating.seats[name].top), s.report.height_above_dial(name)
        if top is not None and height is not None:
            rows.append((f"{name} {height:.2f}", top))
    rows.sort(key=lambda row: row[1])
    for (words, depth), y in zip(rows, spread([depth for _, depth in rows], 1.2 * size, high, low), strict=True):
        yield line(edge - 0.3 * size, y, edge, depth, class_="lead")
        yield text(edge - 0.5 * size, y + 0.35 * size, words, anchor="end", class_="height")
    yield text(left + 0.2 * size, high - 0.5 * size, "tops, mm above the dial", class_="words")


def _told(report: Report) -> str:
    spacer = report.pairing.stack.thickness
    p = report.pairing
    says = f"A {spacer:.2f} mm spacer sits {p.stack.where}." if spacer else "No spacer."
    below = "case floor" if p.case.is_front_loaded else "case back"
    return f"Crystal above, {below} below, stem and crown to the right. {says} {report.why}"
