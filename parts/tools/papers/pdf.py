"""Papers: HTML to PDF with the bundled fonts, and drawings at an exact scale.

The PDF maker reads nothing that a text could name: only the bundled fonts, and the pictures that are handed to it.
"""

import gc
import io
import re
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from html import unescape
from unicodedata import bidirectional

from django.utils.safestring import mark_safe

from parts.tools.papers.drawn import with_round_circles, with_styles

_SCALES = (20, 10, 8, 6, 5, 4, 3, 2.5, 2, 1.5, 1)
_AUTO = re.compile(r'\bdir="auto"([^>]*>)')
_TAG = re.compile(r"<[^>]*>")
_SIZE = re.compile(r'width="([\d.]+)mm" height="([\d.]+)mm"')


COUNTED = "page {page} of {pages}"
"""What stands at the foot of a page."""


def to_pdf(
    html: str, *, size: str = "A4", pictures: Mapping[str, bytes] | None = None, counted: str = COUNTED
) -> bytes:
    """The PDF's bytes; `size` is a paper size as CSS has it, `pictures` maps names to JPEG bytes (src="paper:///name").

    `counted` is COUNTED in the paper's language.
    """
    from parts.tools.papers import maker

    markup = with_round_circles(with_styles(_with_directions(html)))
    with _collecting_later():
        sheets = maker.style(), maker.page_size(size), maker.page_numbers(counted)
        return maker.pdf(markup, pictures or {}, *sheets, tagged=True)


@contextmanager
def _collecting_later() -> Iterator[None]:
    """No search for garbage meanwhile: the PDF maker keeps nearly all that it makes, and it costs 15 % of the time."""
    is_on = gc.isenabled()
    gc.disable()
    try:
        yield
    finally:
        if is_on:
            gc.enable()


def _with_directions(html: str) -> str:
    """The page with each dir="auto" settled by the first letter that has a direction, as the PDF maker does not."""
    return _AUTO.sub(lambda tag: f'dir="{_direction(html[tag.end() : tag.end() + 400])}"{tag[1]}', html)


def _direction(following: str) -> str:
    words = unescape(_TAG.sub(" ", following.partition("</")[0]))
    strong = next((bidirectional(letter) for letter in words if bidirectional(letter) in ("L", "R", "AL")), "L")
    return "ltr" if strong == "L" else "rtl"


def to_png(drawing: str, *, side: float, pixels: int, pictures: Mapping[str, bytes] | None = None) -> bytes:
    """A square drawing at scale 1, `side` mm wide, as a PNG of so many pixels each way; `pictures` as in `to_pdf`."""
    import pypdfium2

    from parts.tools.papers import maker

    page = f"@page {{ size: {side}mm {side}mm; margin: 0 }} body {{ margin: 0 }} svg {{ display: block }}"
    pdf = maker.pdf(with_round_circles(with_styles(drawing)), pictures or {}, maker.rules(page))
    with pypdfium2.PdfDocument(pdf) as document:
        picture = document[0].render(scale=pixels / document[0].get_width()).to_pil().crop((0, 0, pixels, pixels))
    out = io.BytesIO()
    picture.save(out, "PNG", optimize=True)
    return out.getvalue()


def tells_apart(letter: str, other: str, language: str) -> bool:
    """Whether papers show two letters differently: a letter that no font of the machine has is an empty box."""
    import pypdfium2

    pictures = set()
    for each in (letter, other):
        with pypdfium2.PdfDocument(to_pdf(f'<html lang="{language}"><title>.</title><p>{each}</p></html>')) as document:
            pictures.add(document[0].render(scale=4).to_pil().tobytes())
    return len(pictures) == 2


def to_scale(draw, report, width):
    """The drawing at the largest round scale that fits the width, mm, and that scale; None where it is empty."""
    plain = draw(report, 1)
    if not plain:
        return None
    natural = [float(size) for size in _SIZE.search(plain).groups()]
    scale = next((step for step in _SCALES if natural[0] * step <= width), 1)
    stated = 'width="{:.4f}mm" height="{:.4f}mm"'.format(*(size * scale for size in natural))
    return {"svg": mark_safe(_SIZE.sub(stated, plain, count=1)), "scale": f"{scale:g}:1"}
