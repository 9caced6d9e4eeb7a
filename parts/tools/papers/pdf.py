"""Papers: HTML to PDF with the bundled fonts, and drawings at an exact scale.

The PDF maker reads nothing that a text could name: only the bundled fonts, and the pictures that are handed to it.
"""

import io
import re
from collections.abc import Mapping
from functools import cache
from pathlib import Path

import pypdfium2
from django.conf import settings
from django.utils.safestring import mark_safe
from PIL import ImageFile
from weasyprint import CSS, HTML
from weasyprint.text.fonts import FontConfiguration
from weasyprint.urls import URLFetcher, URLFetcherResponse

from parts.tools.papers.drawn import with_styles

# WeasyPrint has every part of the program take pictures that are cut short; uploads are refused for that.
ImageFile.LOAD_TRUNCATED_IMAGES = False

_SCALES = (20, 10, 8, 6, 5, 4, 3, 2.5, 2, 1.5, 1)
_STATIC = Path(settings.BASE_DIR) / "static"


def to_pdf(html: str, *, size: str = "A4", pictures: Mapping[str, bytes] | None = None) -> bytes:
    """The PDF's bytes; `size` is a paper size as CSS has it, `pictures` maps names to JPEG bytes (src="paper:///name")."""
    return HTML(string=with_styles(html), base_url="paper:///", url_fetcher=_Bundled(pictures or {})).write_pdf(
        stylesheets=[_style(), _page_size(size)], font_config=_font_config(), pdf_tags=True
    )


def to_png(drawing: str, *, side: float, pixels: int, pictures: Mapping[str, bytes] | None = None) -> bytes:
    """A square drawing at scale 1, `side` mm wide, as a PNG of so many pixels each way; `pictures` as in `to_pdf`."""
    fetcher = _Bundled(pictures or {})
    page = CSS(
        string=f"@page {{ size: {side}mm {side}mm; margin: 0 }} body {{ margin: 0 }} svg {{ display: block }}",
        url_fetcher=fetcher,
    )
    pdf = HTML(string=with_styles(drawing), base_url="paper:///", url_fetcher=fetcher).write_pdf(
        stylesheets=[page], font_config=_font_config()
    )
    with pypdfium2.PdfDocument(pdf) as document:
        picture = document[0].render(scale=pixels / document[0].get_width()).to_pil().crop((0, 0, pixels, pixels))
    out = io.BytesIO()
    picture.save(out, "PNG", optimize=True)
    return out.getvalue()


def to_scale(draw, report, width):
    """The drawing at the largest round scale that it has room for, with that scale in words; None where it is empty."""
    plain = draw(report, 1)
    if not plain:
        return None
    natural = float(plain.split('width="', 1)[1].split("mm", 1)[0])
    scale = next((step for step in _SCALES if natural * step <= width), 1)
    return {"svg": mark_safe(draw(report, scale)), "scale": f"{scale:g}:1"}


@cache
def _font_config():
    return FontConfiguration()


@cache
def _style():
    sheet = (_STATIC / "css" / "paper.css").read_text()
    return CSS(string=sheet, base_url="paper:///", url_fetcher=_Bundled({}), font_config=_font_config())


@cache
def _page_size(size):
    return CSS(string=f"@page {{ size: {size}; }}", url_fetcher=_Bundled({}))


class _Bundled(URLFetcher):
    """Gives the bundled fonts and the pictures of this one paper, and nothing else: no other file, no address."""

    def __init__(self, pictures):
        super().__init__()
        self.pictures = pictures

    def fetch(self, url, headers=None):  # noqa: ARG002 - the library's signature
        name = url.removeprefix("paper:///")
        if name in self.pictures:
            return URLFetcherResponse(url, self.pictures[name], {"Content-Type": "image/jpeg"})
        if name == url or not re.fullmatch(r"fonts/[A-Za-z0-9-]+\.woff2", name):
            raise ValueError("a paper may use bundled fonts and its own pictures only")
        return URLFetcherResponse(url, (_STATIC / name).read_bytes(), {"Content-Type": "font/woff2"})
