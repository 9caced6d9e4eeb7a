"""A page as a browser reads it: however its template's lines are broken."""

import re

_BLOCK = r"</?(?:dd|dt|div|h\d|li|p|section|td|th|tr|ul)\b[^<>]*>"


def as_read(html: str) -> str:
    """The page on one line: blanks and line ends are one blank, and none at a block or within a tag's end."""
    return re.sub(rf" ?({_BLOCK}) ?", r"\1", " ".join(html.split()).replace(" >", ">"))
