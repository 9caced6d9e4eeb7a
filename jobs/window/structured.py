"""What search engines read of a page: its facts in the words of schema.org, as JSON-LD."""

from __future__ import annotations

import json
from typing import TYPE_CHECKING, Any

from django.utils.safestring import SafeString, mark_safe
from django.utils.translation import gettext as _

if TYPE_CHECKING:
    from jobs.window.holders import ToOrder
    from jobs.window.pages import Page
    from jobs.window.pieces import Piece, Price
    from jobs.window.site import Site

_SAFE = {ord(sign): f"\\u{ord(sign):04x}" for sign in "<>&"}


def facts_of(page: Page) -> SafeString:
    """The page's facts as an element of its head, which no browser runs; whole addresses where the site has one."""
    piece, group, holder = (page.shows.get(name) for name in ("piece", "group", "holder"))
    shop = _without_gaps({"@type": "LocalBusiness", "name": page.site.name, "url": page.site.address})
    if piece:
        facts = [_service(page, piece, shop), _path(page, piece)]
    elif holder:
        facts = [_product(page, holder, shop)]
    elif group:
        facts = [_list(page, group.pieces, group.name)]
    else:
        content = page.site.content(page.language)
        about = {"email": page.site.window.email, "description": str(content.tagline or content.intro)}
        facts = [_without_gaps(shop | about), _list(page, content.pieces, page.site.name)]
    said = json.dumps({"@context": "https://schema.org", "@graph": facts}, ensure_ascii=False)
    return mark_safe(f'<script type="application/ld+json">{said.translate(_SAFE)}</script>')


def _product(page: Page, holder: ToOrder, shop: dict[str, Any]) -> dict[str, Any]:
    offer = _offer(page, holder.price)
    facts = {
        "@type": "Product",
        "name": str(holder.title),
        "sku": holder.code,
        "description": str(holder.story),
        "url": page.address,
        "offers": offer and offer | {"seller": shop},
    }
    return _without_gaps(facts)


def _service(page: Page, piece: Piece, shop: dict[str, Any]) -> dict[str, Any]:
    return _without_gaps(
        {
            "@type": "Service",
            "name": str(piece.title),
            "identifier": piece.code,
            "description": str(piece.story or piece.takes_in_a_line),
            "url": page.address,
            "image": [_whole(page.site, picture.shown.path) for picture in piece.pictures if page.site.address],
            "category": piece.family and piece.family.name,
            "provider": shop,
            "offers": _offer(page, piece.price),
        }
    )


def _offer(page: Page, price: Price) -> dict[str, Any] | None:
    if not price:
        return None
    return {
        "@type": "Offer",
        "priceSpecification": {
            "@type": "PriceSpecification",
            "minPrice": str(price.amount),
            "priceCurrency": page.site.shop.currency,
        },
    }


def _path(page: Page, piece: Piece) -> dict[str, Any]:
    """Where the piece stands on the site."""
    steps = [(_("All conversions"), "pieces.html"), *([(piece.family.name, piece.family.path)] if piece.family else [])]
    steps.append((str(piece.title), piece.path))
    return {
        "@type": "BreadcrumbList",
        "itemListElement": [
            _without_gaps({"@type": "ListItem", "position": at, "name": name, "item": _page(page, path)})
            for at, (name, path) in enumerate(steps, start=1)
        ],
    }


def _list(page: Page, pieces: list[Piece], name: str) -> dict[str, Any]:
    return {
        "@type": "ItemList",
        "name": name,
        "itemListElement": [
            _without_gaps(
                {"@type": "ListItem", "position": at, "name": str(piece.title), "url": _page(page, piece.path)}
            )
            for at, piece in enumerate(pieces, start=1)
        ],
    }


def _page(page: Page, path: str) -> str:
    return _whole(page.site, f"{page.site.prefix(page.language)}{path}")


def _whole(site: Site, place: str) -> str:
    return site.address and f"{site.address}{place}"


def _without_gaps(facts: dict[str, Any]) -> dict[str, Any]:
    return {name: fact for name, fact in facts.items() if fact}
