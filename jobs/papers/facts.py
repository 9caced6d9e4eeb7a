"""What each paper says, gathered for its template."""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING, Any

from django.utils import timezone
from django.utils.safestring import mark_safe

from jobs import luminous
from jobs.models import Condition
from jobs.options.choosing import chosen_option, report_of
from jobs.papers import measuring_sheet
from jobs.papers.handover import handover
from jobs.quotes.ways import ways_of, what_differs
from jobs.stages import measuring
from jobs.stages.checklist import lines_of
from jobs.stages.progress import ORDER
from parts.designs.page import design_drawings
from parts.designs.revisions import latest_design
from parts.fit.drawings import dial_svg, foot_template_svg, section_svg, stack_svg, window_svg
from parts.pairings.page import hand_heights
from parts.tools.papers.pdf import to_scale
from parts.tools.qr import qr_svg

if TYPE_CHECKING:
    from jobs.models import Job, Quote

DESIGN_SCALE = 3
"""Scale of a holder's plan and section on the job sheet; its walls are drawn twice as large."""
OF_THE_DATE = ("date-present", "date-tilt", "date-position", "date-cut", "date-neighbours", "date-disc", "date-depth")
"""The checks whose lines in a quote are told with a picture of the date window."""
MOST_PHOTOS = 40
"""Photos that a job sheet shows, each as its small picture."""

MOST_ON_RECEIPT = 8
"""Photos that a receipt shows; of more it tells the number."""


def common(job, address, shop):
    """What every paper may need: shop, job, day, and the code that opens the job."""
    return {
        "shop": shop,
        "has_logo": bool(shop.logo),
        "job": job,
        "customer": job.customer,
        "printed": timezone.localtime(),
        "code": mark_safe(qr_svg(address)),
    }


def receipt(job, **_):
    """The watch as it came: what was looked at and what was not, and its pictures."""
    looked = [line for line in job.conditions.all() if line.finding or line.remark]
    seen = {line.subject for line in looked}
    photos = [photo for photo in job.photos.filter(stage="intake", archived=False) if not photo.has_money]
    return {
        "conditions": looked,
        "not_looked": [label for subject, label in Condition.Subject.choices if subject not in seen],
        "blocked": luminous.is_blocked(job),
        "photos": photos[:MOST_ON_RECEIPT],
        "more_photos": len(photos[MOST_ON_RECEIPT:]),
    }


def label(job, **_):
    return {"blocked": luminous.is_blocked(job)}


def quote(_job: Job, *, quote: Quote, **_: Any) -> dict[str, Any]:
    """The options of one version, each with the date window's picture where a line tells of it, and what differs."""
    ways = ways_of(quote=quote)
    is_sent = quote.state == quote.State.SENT
    return {
        "quote": quote,
        "ways": [(way, _window(way)) for way in ways],
        "differing": what_differs(ways) if len(ways) > 1 else [],
        "may_sign": is_sent and bool(ways) and all(way.groups and not way.unpriced for way in ways),
        "accepted": next((way.part for way in ways if way.part.accepted), None),
    }


def _window(way):
    report = report_of(way.part.option) if any(line.from_check in OF_THE_DATE for line in way.accept) else None
    return to_scale(partial(window_svg, plain=True), report, 32.0) if report else None


def sheet(job, **_):
    """The bench's working paper: drawings, numbers, cut plan, and every stage's checklist with boxes."""
    option = chosen_option(job)
    report = report_of(option)
    stages = {stage.kind: stage for stage in job.stages.prefetch_related("ticks")}
    facts = {
        "option": option,
        "report": report,
        "stages": [
            (stages[kind], [(line.item, line.tick) for line in lines_of(kind, report, job, stages[kind].ticks.all())])
            for kind in ORDER[1:]
        ],
        "blocked": luminous.is_blocked(job),
        "cautions": luminous.CAUTIONS,
        "clearances": job.clearances.filter(undone=False),
        "photos": [photo for photo in job.photos.filter(archived=False) if not photo.has_money][:MOST_PHOTOS],
    }
    if report is None:
        return facts
    asked = {
        stage: measuring.asked_in(stages[stage], option.pairing)
        for stage in ("teardown", "holder", "dial", "hands", "stem")
    }
    return facts | {
        "heights": hand_heights(report),
        "holder": _holder(report),
        "designs": _designs(job, option.pairing),
        "dimensions": list({dimension.path: dimension for group in asked.values() for dimension in group}.values()),
        "section": to_scale(section_svg, report, 178.0),
        "dial": to_scale(dial_svg, report, 95.0),
        "stack": to_scale(stack_svg, report, 75.0),
    }


def _holder(report):
    """The holder ring's numbers from the check of its wall, mm; None where there is no ring or it cannot be told."""
    wall, inside = report["holder-wall"].value, report.pairing.movement.fit_diameter
    if not wall.known or wall.value <= 0:
        return None
    return {"wall": wall.value, "inside": inside.value, "outside": inside.value + 2 * wall.value}


def _designs(job, pairing):
    """The kept designs of holder ring and spacer to work by, each with its drawings at a stated scale."""
    family = job.case_family or (pairing.case and pairing.case.family)
    if family is None or pairing.movement is None:
        return []
    designs = (latest_design(family, pairing.movement, kind) for kind in ("ring", "spacer"))
    return [(design, design_drawings(design, scale=DESIGN_SCALE)) for design in designs if design]


def template(job, **_):
    """The dial-foot template at 1:1; nothing where no pairing is chosen."""
    option = chosen_option(job)
    report = report_of(option)
    drawn = mark_safe(foot_template_svg(report, 1)) if report and report.foot_marks else None
    return {"option": option, "report": report, "drawing": drawn}


FACTS = {
    "receipt": receipt,
    "label": label,
    "quote": quote,
    "sheet": sheet,
    "measure": measuring_sheet.facts,
    "template": template,
    "handover": handover,
}
