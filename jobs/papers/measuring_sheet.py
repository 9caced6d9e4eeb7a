"""The measuring sheet as a paper: blank, of a fit check, or of a job."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from django.template.loader import render_to_string
from django.utils.safestring import mark_safe

from jobs import luminous
from jobs.models import Shop
from jobs.options.choosing import chosen_option
from parts.measuring.sheet import blocks_of, laid_out
from parts.pairings.answer import answer
from parts.tools.papers.pdf import to_pdf
from parts.tools.qr import qr_svg

if TYPE_CHECKING:
    from jobs.models import Job
    from parts.models import Pairing

_ROOM = {Shop.Paper.A4: 260.0, Shop.Paper.LETTER: 242.0}
"""Height in mm of the rows' columns on the shop's paper."""


def measuring_facts(*, pairing: Pairing | None, paper: str) -> dict[str, Any]:
    """What the sheet asks for: everything that decides, or what the fit check still lacks."""
    answered = answer(pairing) if pairing else None
    report = answered.report if answered else None
    wanted = [path for path, _ in report.measure_next] if report else []
    blocks = blocks_of(answered.sheet if answered else None, wanted=wanted)
    name = (pairing.name or pairing.draft_name) if pairing else ""
    return {"pairing": pairing, "pairing_name": name, "layout": laid_out(blocks, height=_ROOM[Shop.Paper(paper)])}


def facts(job: Job, *, shop: Shop, **_: Any) -> dict[str, Any]:
    """The sheet of a job: what its chosen option still lacks, or all where none is chosen."""
    option = chosen_option(job)
    cleared = job.clearances.filter(undone=False).first()
    return measuring_facts(pairing=option.pairing if option else None, paper=shop.paper) | {
        "blocked": luminous.is_blocked(job),
        "cleared": cleared,
    }


def measuring_pdf(*, pairing: Pairing | None = None, address: str = "") -> bytes:
    """The sheet's bytes, blank or of a fit check; `address` is what its code opens."""
    shop = Shop.current()
    context = measuring_facts(pairing=pairing, paper=shop.paper)
    code = mark_safe(qr_svg(address)) if address else ""
    return to_pdf(render_to_string("papers/measure.html", context | {"shop": shop, "code": code}), size=shop.paper)
