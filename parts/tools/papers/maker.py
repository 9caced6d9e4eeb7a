"""The PDF maker, with what it may read: the bundled fonts and the pictures of one paper, and nothing else.

It takes a second to load, so `pdf` loads it with the first paper.
"""

import re
from collections.abc import Mapping
from functools import cache
from pathlib import Path

from django.conf import settings
from PIL import ImageFile
from weasyprint import CSS, HTML
from weasyprint.text.fonts import FontConfiguration
from weasyprint.urls import URLFetcher, URLFetcherResponse

# WeasyPrint has every part of the program take pictures that are cut short; uploads are refused for that.
ImageFile.LOAD_TRUNCATED_IMAGES = False

_STATIC = Path(settings.BASE_DIR) / "static"


def pdf(markup: str, pictures: Mapping[str, bytes], *sheets: CSS, tagged: bool = False) -> bytes:
    """The bytes of a page of HTML or SVG with these style sheets."""
    page = HTML(string=markup, base_url="paper:///", url_fetcher=_Bundled(pictures))
    made: bytes = page.write_pdf(stylesheets=list(sheets), font_config=_font_config(), pdf_tags=tagged)
    return made


@cache
def style() -> CSS:
    """How papers look."""
    sheet = (_STATIC / "css" / "paper.css").read_text()
    return CSS(string=sheet, base_url="paper:///", url_fetcher=_Bundled({}), font_config=_font_config())


@cache
def page_size(size: str) -> CSS:
    """Pages of a size as CSS names it."""
    return rules(f"@page {{ size: {size}; }}")


@cache
def page_numbers(counted: str) -> CSS:
    """The words at the foot of each page, "{page}" and "{pages}" in them counted."""
    words = re.split(r"(\{pages?\})", counted)
    content = " ".join(f"counter({each[1:-1]})" if each.startswith("{") else f'"{each}"' for each in words if each)
    return rules(f"@page {{ @bottom-right {{ content: {content}; }} }}")


def rules(text: str) -> CSS:
    """A style sheet that asks for nothing."""
    return CSS(string=text, url_fetcher=_Bundled({}))


@cache
def _font_config() -> FontConfiguration:
    return FontConfiguration()


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
