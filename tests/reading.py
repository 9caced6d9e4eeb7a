"""A page as a browser reads it: however its template's lines are broken; and a PDF's words."""

import re

import pypdfium2

_BLOCK = r"</?(?:dd|dt|div|h\d|li|p|section|td|th|tr|ul)\b[^<>]*>"


def as_read(html: str) -> str:
    """The page on one line: blanks and line ends are one blank, and none at a block or within a tag's end."""
    return re.sub(rf" ?({_BLOCK}) ?", r"\1", " ".join(html.split()).replace(" >", ">"))


def pdf_pages(pdf: bytes) -> list[str]:
    """The words of each page of a PDF, blanks of any width as one."""
    return [" ".join(page.get_textpage().get_text_range().split()) for page in pypdfium2.PdfDocument(pdf)]


def pdf_words(pdf: bytes) -> str:
    """The words of all pages of a PDF, blanks of any width as one."""
    return " ".join(pdf_pages(pdf))
