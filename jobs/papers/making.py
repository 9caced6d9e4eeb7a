"""Making a paper and keeping it."""

from __future__ import annotations

from io import BytesIO
from typing import TYPE_CHECKING, Any

from django.core.files.base import ContentFile
from django.db import transaction
from django.template.loader import render_to_string
from django.utils import timezone
from django.utils.translation import gettext as _
from PIL import Image

from jobs.history import record_of
from jobs.language.choices import PLAIN, settled, speaking
from jobs.models import Event, PaperOut, Shop
from jobs.papers.facts import FACTS, common
from jobs.papers.labels import SIZES
from jobs.photos.marks import standing
from jobs.shop.words import in_language
from parts.fit.answer.listing import in_a_sentence
from parts.tools.papers.pdf import to_pdf
from parts.tools.pictures import encoded

if TYPE_CHECKING:
    from django.contrib.auth.models import User

    from jobs.models import Job, Quote

LARGE_PIXELS = 1000
"""Longest side of a picture that stands alone or in a pair on a paper: 280 dots an inch at 90 mm."""


def counted() -> str:
    """What stands at the foot of each page, in the language that is spoken now."""
    return _("page {page} of {pages}")


class NothingToPrint(Exception):
    """The job has not come so far that this paper says anything; says what to do."""


def paper_pdf(
    *,
    job: Job,
    kind: str,
    address: str,
    quote: Quote | None = None,
    shop: Shop | None = None,
    sees_money: bool = False,
    place: int = 1,
    language: str = "",
) -> bytes:
    """The PDF of a paper; `address` is what its code opens, `shop` one that is not saved yet. Raises NothingToPrint.

    It comes in the `language` that is asked for, else in the customer's; a paper for the bench in the pages' own.

    Without an address the code carries the job's number. `place` is where a label lies on its sheet. A receipt names
    the diagnosis fee only where its maker `sees_money`.
    """
    shop = shop or Shop.current()
    language = paper_language(job=job, kind=kind, asked=language, quote=quote)
    with speaking(language):
        return _made(job, kind, address, in_language(shop, language), sees_money, quote=quote, place=place)


def paper_language(*, job: Job, kind: str, asked: str = "", quote: Quote | None = None) -> str:
    """The language that a paper comes in."""
    if kind not in PaperOut.FOR_CUSTOMERS:
        return PLAIN
    return settled(asked, quote.language if quote else "", job.customer.language, Shop.current().language)


def _made(job, kind, address, shop, sees_money, **wanted):
    make: Any = FACTS[kind]
    facts = make(job, shop=shop, **wanted)
    if kind == "template" and facts["lacking"]:
        raise NothingToPrint(
            f"A template lies on the dial's edge. Measure it first: {in_a_sentence(facts['lacking'])}."
        )
    if kind == "template" and not (facts["drawing"] or facts["pads"]):
        raise NothingToPrint(
            "The template needs a chosen option with its dial and movement measured across, or the foot holes measured."
        )
    html = render_to_string(f"papers/{kind}.html", common(job, address, shop) | facts | {"sees_money": sees_money})
    return to_pdf(
        html,
        size=SIZES[shop.label].paper if kind == "label" else shop.paper,
        pictures=_pictures(shop, facts),
        counted=counted(),
    )


def letterhead(shop: Shop) -> dict[str, bytes]:
    """The pictures of the shop's letterhead, by name."""
    content = _read(shop.logo) if shop.logo else b""
    return {"logo": content} if content else {}


def _pictures(shop, facts):
    """The pictures that the paper may show, by the names that its template gives them."""
    shown = facts.get("photos", ())
    files = {f"photo-{photo.pk}": photo.thumbnail for photo in shown if not standing(photo)}
    pictures = (
        facts.get("pictures", {})
        | letterhead(shop)
        | {name: content for name, file in files.items() if (content := _read(file))}
    )
    for photo in (*facts.get("large_photos", ()), *filter(standing, shown)):
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
    sees_money: bool = False,
    place: int = 1,
    language: str = "",
) -> PaperOut:
    """Make a paper and keep the file: what goes out can be read again as it went out. `language` as in `paper_pdf`."""
    language = paper_language(job=job, kind=kind, asked=language, quote=quote)
    content = paper_pdf(
        job=job,
        kind=kind,
        address=address,
        quote=quote,
        sees_money=sees_money,
        place=place,
        language=language,
    )
    version = f"-v{quote.version}" if quote else ""
    name = f"{job.number}-{kind}{version}-{timezone.localtime():%Y%m%d-%H%M%S}.pdf"
    return keep_file(
        paper=PaperOut(job=job, kind=kind, quote=quote, language=language, by=by),
        name=name,
        content=content,
    )


@transaction.atomic
def keep_file(*, paper: PaperOut, name: str, content: bytes) -> PaperOut:
    """Keep the file of a paper that is made, under this name, with a line in the history of its job."""
    paper.file.save(name, ContentFile(content), save=False)
    paper.save()
    facts = {"paper": paper.kind, "made": paper.pk}
    kept_name = str(paper.file.name).rsplit("/", 1)[-1]
    record_of(of=paper.of, by=paper.by, kind=Event.Kind.PAPER, data=facts, after=kept_name)
    return paper
