"""Making a paper and keeping it."""

from django.core.files.base import ContentFile
from django.db import transaction
from django.template.loader import render_to_string
from django.utils import timezone

from jobs.history import record
from jobs.models import PaperOut, Shop
from jobs.papers.facts import FACTS, common
from parts.paper import to_pdf

LABEL_SIZE = "90mm 40mm"


class NothingToPrint(Exception):
    """The job has not come so far that this paper says anything; says what to do."""


def paper_pdf(*, job, kind, address, quote=None):
    """The PDF of a paper; `address` is what its code opens. Raises NothingToPrint."""
    facts = FACTS[kind](job, quote=quote)
    if kind == "template" and not facts["drawing"]:
        raise NothingToPrint("The template needs a chosen pairing whose movement has its foot holes measured.")
    html = render_to_string(f"papers/{kind}.html", common(job, address) | facts)
    shop = Shop.current()
    return to_pdf(html, size=LABEL_SIZE if kind == "label" else shop.paper, pictures=_pictures(shop))


def _pictures(shop):
    if not shop.logo:
        return {}
    with shop.logo.open("rb") as file:
        return {"logo": file.read()}


@transaction.atomic
def keep_paper(*, job, kind, address, by, quote=None):
    """Make a paper and keep the file: what goes out can be read again as it went out."""
    content = paper_pdf(job=job, kind=kind, address=address, quote=quote)
    made = PaperOut(job=job, kind=kind, quote=quote, by=by)
    version = f"-v{quote.version}" if quote else ""
    made.file.save(
        f"{job.number}-{kind}{version}-{timezone.localtime():%Y%m%d-%H%M%S}.pdf", ContentFile(content), save=False
    )
    made.save()
    record(job=job, by=by, what=f"Paper made: {made.get_kind_display()}", after=made.file.name.rsplit("/", 1)[-1])
    return made
