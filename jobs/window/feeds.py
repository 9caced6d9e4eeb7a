"""What programs read of the site: the news feed (Atom, RFC 4287) and the site map (sitemaps.org, version 0.9)."""

from __future__ import annotations

import uuid
from typing import TYPE_CHECKING
from xml.etree import ElementTree as ET

from django.utils.feedgenerator import Atom1Feed

from jobs.language.choices import speaking
from jobs.window.site import NEWEST

if TYPE_CHECKING:
    from collections.abc import Iterable

    from jobs.window.pages import Page

_MAP, _XHTML = "http://www.sitemaps.org/schemas/sitemap/0.9", "http://www.w3.org/1999/xhtml"
_NAMESPACE = uuid.UUID("7d3a1f8e-52c4-4a0b-9a5e-6c1f0e2b4d77")


def atom_feed(home: Page) -> bytes:
    """The newest pieces in the language of this first page. An entry keeps its id wherever the site lies."""
    site, content = home.site, home.site.content(home.language)
    feed = Atom1Feed(
        title=site.name,
        link=home.address,
        description=str(content.tagline),
        subtitle=str(content.tagline),
        language=home.language,
        feed_url=f"{site.address}{site.prefix(home.language)}feed.xml",
        author_name=site.name,
        feed_guid=_urn(f"{site.address} {home.language}"),
    )
    with speaking(home.language):
        for piece in content.pieces[: 3 * NEWEST]:
            feed.add_item(
                title=str(piece.title),
                link=f"{site.address}{site.prefix(home.language)}{piece.path}",
                description="\n".join(filter(None, (str(piece.story), piece.price.from_words, piece.how_long))),
                unique_id=_urn(f"{piece.code} {home.language}"),
                pubdate=piece.first_shown,
                updateddate=max(piece.updated, piece.first_shown),
            )
    return feed.writeString("utf-8").encode()


def _urn(name):
    return uuid.uuid5(_NAMESPACE, name).urn


def site_map(pages: Iterable[Page]) -> bytes:
    """Every page with its other languages, and the day of its last change."""
    ET.register_namespace("", _MAP)
    ET.register_namespace("xhtml", _XHTML)
    root = ET.Element(f"{{{_MAP}}}urlset")
    for page in pages:
        url = ET.SubElement(root, f"{{{_MAP}}}url")
        ET.SubElement(url, f"{{{_MAP}}}loc").text = page.address
        if page.updated:
            ET.SubElement(url, f"{{{_MAP}}}lastmod").text = f"{page.updated:%Y-%m-%d}"
        for code, _name, other in page.languages if len(page.site.languages) > 1 else ():
            link = {"rel": "alternate", "hreflang": code, "href": other.address}
            ET.SubElement(url, f"{{{_XHTML}}}link", link)
    return ET.tostring(root, "utf-8", xml_declaration=True)
