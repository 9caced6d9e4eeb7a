"""What each paper says, gathered for its template."""

from datetime import timedelta

from django.utils import timezone
from django.utils.safestring import mark_safe

from jobs import luminous, measure, quoting, timing
from jobs.checklist import items_of
from jobs.money import shown
from jobs.options import chosen_option, report_of
from jobs.qr import qr_svg
from jobs.stages import ORDER
from jobs.timing_plot import plot_svg
from parts.fit.drawings import dial_svg, foot_template_svg, section_svg, stack_svg, window_svg
from parts.pairings.page import hand_heights
from parts.paper import to_scale

MONTH_DAYS = 30.4375
MOST_PHOTOS = 40
"""Photos that a job sheet shows, each as its small picture."""


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
    return {"conditions": job.conditions.all(), "cautions": luminous.CAUTIONS if luminous.is_blocked(job) else ()}


def label(job, **_):
    return {}


def quote(job, *, quote, **_):
    """The lines and sums of one version; what must be accepted stands apart, with the date window's picture."""
    ways = []
    for part in quote.parts.prefetch_related("lines"):
        part.quote = quote
        sums = quoting.sums_of(part)
        lines = list(part.lines.all())
        report = report_of(part.option) if part.option else None
        ways.append(
            {
                "part": part,
                "lines": [(line, shown(line.price, quote.currency)) for line in lines if line.kind != "accept"],
                "accept": [line for line in lines if line.kind == "accept"],
                "window": _window(report) if any(line.from_check.startswith("date-") for line in lines) else None,
                "sums": {
                    name: shown(getattr(sums, name), quote.currency)
                    for name in ("lines", "discount", "total", "deposit")
                },
                "taxes": [(tax.rate, shown(tax.tax, quote.currency)) for tax in sums.taxes],
            }
        )
    return {"quote": quote, "ways": ways}


def _window(report):
    return to_scale(window_svg, report, 40.0) if report else None


def sheet(job, **_):
    """The bench's working paper: drawings, numbers, cut plan, and every stage's checklist with boxes."""
    option = chosen_option(job)
    report = report_of(option)
    ticks = {tick.key for stage in job.stages.prefetch_related("ticks") for tick in stage.ticks.all()}
    stages = {stage.kind: stage for stage in job.stages.all()}
    found = {
        "option": option,
        "report": report,
        "stages": [
            (stages[kind], [(item, item.key in ticks) for item in items_of(kind, report, job)]) for kind in ORDER[1:]
        ],
        "blocked": luminous.is_blocked(job),
        "cautions": luminous.CAUTIONS,
        "clearances": job.clearances.filter(taken_back=False),
        "photos": job.photos.filter(put_away=False)[:MOST_PHOTOS],
    }
    if report is None:
        return found
    asked = {
        stage: measure.asked_in(stages[stage], option.pairing)
        for stage in ("teardown", "holder", "dial", "hands", "stem")
    }
    return found | {
        "heights": hand_heights(report),
        "holder": _holder(report),
        "dimensions": list({one.path: one for group in asked.values() for one in group}.values()),
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


def template(job, **_):
    """The dial-foot template at 1:1; nothing where no pairing is chosen."""
    option = chosen_option(job)
    report = report_of(option)
    drawn = mark_safe(foot_template_svg(report, 1)) if report and report.foot_marks else None
    return {"option": option, "report": report, "drawing": drawn}


def handover(job, **_):
    """What the customer takes home in words: what was done, how it runs, how to set it, when the cell is due."""
    option = chosen_option(job)
    report, pairing = report_of(option), option.pairing if option else None
    movement = pairing.movement if pairing else None
    terms = timing.terms_of(job)
    run = next((one for one in job.timing_runs.filter(as_found=False, put_away=False).order_by("-pk")), None)
    outcome = timing.outcome(run, **terms) if run else None
    life = report["cell-life"].value if report else None
    due = timezone.localdate() + timedelta(days=life.value * MONTH_DAYS) if life is not None and life.known else None
    return {
        "movement": movement,
        "pairing": pairing,
        "has_date": bool(movement and movement.has_date),
        "outcome": outcome,
        "plot": mark_safe(plot_svg(outcome, outcome.reading_s)) if outcome else "",
        "cell_due": due,
        "replaced": [name for name in ("movement", "hands", "stem", "crown") if pairing and getattr(pairing, name)],
        "accepted": _accepted_disclosures(job),
        "pressure_tested": _ticked(job, "handover", "pressure"),
        "spacer": report.pairing.stack.thickness if report else None,
    }


def _accepted_disclosures(job):
    quote = job.quotes.filter(state="accepted").first()
    if quote is None:
        return []
    return [line for part in quote.parts.filter(accepted=True) for line in part.lines.filter(kind="accept")]


def _ticked(job, kind, name):
    return job.stages.filter(kind=kind, ticks__key__startswith=f"{name}-").exists()


FACTS = {
    "receipt": receipt,
    "label": label,
    "quote": quote,
    "sheet": sheet,
    "template": template,
    "handover": handover,
}
