"""The few SVG words that the drawings are made of: shapes and classes only.

static/css/drawings.css gives them their colours and line widths, on a page as on paper.
"""

from html import escape

SVG = "http://www.w3.org/2000/svg"
_MARKS = {
    "work": (("mark", "M8 0 16 8 8 16 0 8z"), ("cut", "M8 4.4v7.2M4.4 8h7.2")),
    "unclear": (("mark", "M1 1h14v14H1z"), ("cut", "M5.6 6.2a2.4 2.4 0 1 1 3.6 2.1q-1.2.7-1.2 1.6M8 11.5v1.6")),
    "no": (("mark", "M4.7 0h6.6L16 4.7v6.6L11.3 16H4.7L0 11.3V4.7z"), ("cut", "m5 5 6 6m0-6-6 6")),
}
"""The marks of the verdicts, on a field of 16; what fits carries none."""


def el(name: str, *inside: str, **attributes: object) -> str:
    """An element; attribute names lose a trailing underscore and turn inner ones into hyphens, numbers are rounded."""
    written = "".join(
        f' {key.rstrip("_").replace("_", "-")}="{number(value)}"'
        for key, value in attributes.items()
        if value is not None
    )
    return f"<{name}{written}>{''.join(inside)}</{name}>" if inside else f"<{name}{written}/>"


def number(value: object) -> str:
    """A length to the micrometre, without idle noughts; anything else as escaped text."""
    if isinstance(value, float):
        digits = f"{round(value, 3) + 0.0:g}" if abs(value) < 1000 else f"{value:.1f}"
        return digits.replace("0.", ".", 1) if digits.startswith(("0.", "-0.")) else digits
    return escape(str(value), quote=True)


def rect(left: float, top: float, right: float, bottom: float, **look: object) -> str:
    """A rectangle by its edges, in either order."""
    left, right, top, bottom = min(left, right), max(left, right), min(top, bottom), max(top, bottom)
    return el("rect", x=float(left), y=float(top), width=float(right - left), height=float(bottom - top), **look)


def line(x1: float, y1: float, x2: float, y2: float, **look: object) -> str:
    return el("line", x1=float(x1), y1=float(y1), x2=float(x2), y2=float(y2), **look)


def circle(x: float, y: float, radius: float, **look: object) -> str:
    return el("circle", cx=float(x), cy=float(y), r=float(radius), **look)


def path(*steps: str | float, **look: object) -> str:
    """A path from letters and numbers."""
    return el("path", d=" ".join(step if isinstance(step, str) else number(float(step)) for step in steps), **look)


def polygon(*corners: tuple[float, float], **look: object) -> str:
    """A closed outline through its corners."""
    points = " ".join(f"{number(float(x))},{number(float(y))}" for x, y in corners)
    return el("polygon", points=points, **look)


def text(x: float, y: float, words: str, size: float | None = None, anchor: str = "", **look: object) -> str:
    """Words at a point: `size` where it is not the drawing's own, in its units; `anchor` as in SVG."""
    place = {"x": float(x), "y": float(y), "font_size": None if size is None else float(size)}
    return el("text", escape(words), **place, text_anchor=anchor or None, **look)


def verdict_mark(x: float, y: float, size: float, verdict: str) -> str:
    """A verdict's mark with its upper left corner there; empty for what fits."""
    lines = {"cut": {"stroke_width": 1.8}}
    shapes = [el("path", d=steps, class_=name, **lines.get(name, {})) for name, steps in _MARKS.get(verdict, ())]
    if not shapes:
        return ""
    return el("g", *shapes, transform=f"translate({number(x)} {number(y)}) scale({number(size / 16)})")


def hatched(corners: list[tuple[float, float]], pitch: float, rising: int, **look: object) -> str:
    """A cut face: its outline, and lines across it at 45°, `pitch` apart, `rising` to the right (1) or left (-1)."""
    turned = [(x * rising + y, y) for x, y in corners]
    sides = list(zip(turned, [*turned[1:], turned[0]], strict=True))
    low, high = min(u for u, _ in turned), max(u for u, _ in turned)
    strokes = ""
    at = (low // pitch + 1) * pitch
    while at < high:
        crossed = sorted(
            y1 + (at - u1) * (y2 - y1) / (u2 - u1) for (u1, y1), (u2, y2) in sides if (u1 > at) != (u2 > at)
        )
        for top, bottom in zip(crossed[::2], crossed[1::2], strict=False):
            long = bottom - top
            strokes += f"M{number(rising * (at - top))} {number(top)}l{number(-rising * long)} {number(long)}"
        at += pitch
    return polygon(*corners, **look) + (path(strokes, class_="hatch") if strokes else "")


def drawing(
    left: float,
    top: float,
    right: float,
    bottom: float,
    *inside: str,
    title: str,
    description: str,
    name: str,
    scale: float | None = None,
    letters: float | None = None,
    pressable: bool = False,
) -> str:
    """The whole drawing: its window in mm, a title and a description for those who do not see it.

    `letters` is the height of its lettering. One with numbers to press is a group of links, any other an image.
    """
    width, height = round(right - left, 3), round(bottom - top, 3)
    size = {} if scale is None else {"width": f"{width * scale:.4f}mm", "height": f"{height * scale:.4f}mm"}
    return el(
        "svg",
        el("title", escape(title)),
        el("desc", escape(description)),
        *inside,
        xmlns=SVG,
        viewBox=" ".join(number(float(end)) for end in (left, top, width, height)),
        role="group" if pressable else "img",
        class_=f"drawing drawing-{name}",
        font_size=letters,
        **size,
    )


def scale_bar(x: float, y: float, length: float, size: float) -> str:
    """A bar of a stated length, by which a print can be checked; its words stand behind it."""
    ends = path("M", x, y - size / 3, "V", y, "H", x + length, "V", y - size / 3, class_="dim")
    return el("g", ends, text(x + length + size / 2, y, f"{length:g} mm", anchor="start", class_="soft"))
