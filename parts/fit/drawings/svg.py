"""The few SVG words that the drawings are made of, and their colours. Attributes only, no styles and no scripts."""

from html import escape

INK, SOFT, HAIR, PAPER = "#1d2733", "#505b68", "#85816f", "#fffefb"
VERDICT_INK = {"fits": "#1c6637", "work": "#7a4f00", "unclear": "#4a4684", "no": "#a0221a"}
VERDICT_WASH = {"fits": "#cfe6d4", "work": "#f3dfae", "unclear": "#ebeaf6", "no": "#f2c9c2"}
STEEL, BRASS, SILVER, GLASS, PRINT = "#c9ced4", "#e3cf9a", "#eceff1", "#dcebef", "#d9d2e6"


def el(name: str, *inside: str, **attributes: object) -> str:
    """An element; attribute names lose a trailing underscore and turn inner ones into hyphens, numbers are rounded."""
    written = "".join(
        f' {key.rstrip("_").replace("_", "-")}="{_told(value)}"'
        for key, value in attributes.items()
        if value is not None
    )
    return f"<{name}{written}>{''.join(inside)}</{name}>" if inside else f"<{name}{written}/>"


def _told(value: object) -> str:
    if isinstance(value, float):
        return f"{value:.4f}".rstrip("0").rstrip(".") if value else "0"
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
    return el("path", d=" ".join(step if isinstance(step, str) else _told(float(step)) for step in steps), **look)


def text(x: float, y: float, words: str, size: float, anchor: str = "middle", halo: float = 0.0, **look: object) -> str:
    """Words at a point; a halo of that width (mm) keeps them readable over lines."""
    look = {"fill": INK, "font_family": "Plex Sans, sans-serif"} | look
    place = {"x": float(x), "y": float(y), "font_size": float(size), "text_anchor": anchor}
    words = escape(words)
    around = {"stroke": PAPER, "stroke_width": halo, "stroke_linejoin": "round", "aria_hidden": "true"}
    behind = el("text", words, **place, **(look | around)) if halo else ""
    return behind + el("text", words, **place, **look)


def drawing(
    left: float,
    top: float,
    right: float,
    bottom: float,
    *inside: str,
    title: str,
    description: str,
    scale: float | None = None,
    name: str,
) -> str:
    """The whole drawing: its window in mm, a title and a description for those who do not see it."""
    width, height = right - left, bottom - top
    size = {} if scale is None else {"width": f"{width * scale:.4f}mm", "height": f"{height * scale:.4f}mm"}
    return el(
        "svg",
        el("title", escape(title)),
        el("desc", escape(description)),
        *inside,
        xmlns="http://www.w3.org/2000/svg",
        viewBox=" ".join(_told(float(number)) for number in (left, top, width, height)),
        role="img",
        aria_label=title,
        class_=f"drawing drawing-{name}",
        **size,
    )


def scale_bar(x: float, y: float, length: float, size: float) -> str:
    """A bar of a stated length, by which a print can be checked."""
    look = {"stroke": INK, "stroke_width": size / 12}
    ticks = "".join(line(at, y - size / 4, at, y + size / 4, **look) for at in (x, x + length))
    return el("g", line(x, y, x + length, y, **look), ticks, text(x + length / 2, y - size / 2, f"{length:g} mm", size))
