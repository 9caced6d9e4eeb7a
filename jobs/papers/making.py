"""Making a paper and keeping it."""

from __future__ import annotations

from io import BytesIO
from typing import TYPE_CHECKING, Any

from django.core.files.base import ContentFile
from django.db import transaction
from django.template.loader import render_to_string
from django.utils import timezone
from PIL import Image

from jobs.history import record
from jobs.models import Event, PaperOut, Shop
from jobs.papers.facts import FACTS, common
from jobs.papers.labels import SIZES
from parts.tools.papers.pdf import to_pdf
from parts.tools.pictures import encoded

if TYPE_CHECKING:
    from django.contrib.auth.models import User

    from jobs.models import Invoice, Job, Quote

LARGE_PIXELS = 1000
"""Longest side of a picture that stands alone or in a pair on a paper: 280 dots an inch at 90 mm."""


class NothingToPrint(Exception):
    """The job has not come so far that this paper says anything; says what to do."""


def paper_pdf(
    *,
    job: Job,
    kind: str,
    address: str,
    quote: Quote | None = None,
    invoice: Invoice | None = None,
    shop: Shop | None = None,
    sees_money: bool = False,
    place: int = 1,
) -> bytes:
    """The PDF of a paper; `address` is what its code opens, `shop` one that is not saved yet. Raises NothingToPrint.

    Without an address the code carries the job's number. `place` is where a label lies on its sheet. A receipt names
    the diagnosis fee only where its maker `sees_money`.
    """
    shop = shop or Shop.current()
    make: Any = FACTS[kind]
    facts = make(job, quote=quote, invoice=invoice, shop=shop, place=place)
    if kind == "template" and not (facts["drawing"] or facts["pads"]):
        raise NothingToPrint(
            "The template needs a chosen option with its dial and movement measured across, or the foot holes measured."
        )
    html = render_to_string(f"papers/{kind}.html", common(job, address, shop) | facts | {"sees_money": sees_money})
    return to_pdf(
        html, size=SIZES[shop.label].paper if kind == "label" else shop.paper, pictures=_pictures(shop, facts)
    )


def letterhead(shop: Shop) -> dict[str, bytes]:
    """The pictures of the shop's letterhead, by name."""
    content = _read(shop.logo) if shop.logo else b""
    return {"logo": content} if content else {}


def _pictures(shop, facts):
    """The pictures that the paper may show, by the names that its template gives them."""
    files = {f"photo-{photo.pk}": photo.thumbnail for photo in facts.get("photos", ())}
    pictures = (
        facts.get("pictures", {})
        | letterhead(shop)
        | {name: content for name, file in files.items() if (content := _read(file))}
    )
    for photo in facts.get("large_photos", ()):
        if content := _read(photo.file):
            pictures[f"photo-{photo.pk}"] = encoded(Image.open(BytesIO(content)), LARGE_PIXELS)
    return pictures


def _read(file):
    try:
        with file.open("rb") as opened:
            return opened.read()
    except FileNotFoundError:
        return b""


@transaction.atomic
def keep_paper(
    *,
    job: Job,
    kind: str,
    address: str,
    by: User,
    quote: Quote | None = None,
    invoice: Invoice | None = None,
    sees_money: bool = False,
    place: int = 1,
) -> PaperOut:
    """Make a paper and keep the file: what goes out can be read again as it went out."""
    content = paper_pdf(
        job=job, kind=kind, address=address, quote=quote, invoice=invoice, sees_money=sees_money, place=place
    )
    version = f"-v{quote.version}" if quote else ""
    name = f"{job.number}-{kind}{version}-{timezone.localtime():%Y%m%d-%H%M%S}.pdf"
    return keep_file(
        paper=PaperOut(job=job, kind=kind, quote=quote, invoice=invoice, by=by), name=name, content=content
    )


@transaction.atomic
def keep_file(*, paper: PaperOut, name: str, content: bytes) -> PaperOut:
    """Keep the file of a paper that is made, under this name, with a line of history."""
    paper.file.save(name, ContentFile(content), save=False)
    paper.save()
    facts = {"paper": paper.kind, "made": paper.pk}
    kept_name = str(paper.file.name).rsplit("/", 1)[-1]
    record(job=paper.job, by=paper.by, kind=Event.Kind.PAPER, data=facts, after=kept_name)
    return paper
