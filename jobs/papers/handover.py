"""What the handover note tells: only what is on record of this job, so that every sentence is true of this watch."""

from datetime import timedelta

from django.utils import timezone
from django.utils.safestring import mark_safe

from jobs.models import Stage, StockUse
from jobs.options.choosing import chosen_option, report_of
from jobs.stages.checklist import TIGHT
from jobs.timing import timing_runs
from jobs.timing.plot import plot_svg
from parts.fit.units import MONTH_DAYS
from parts.library.kinds import BROUGHT_IN
from parts.sheets import chosen_hands

_REPLACEABLE = ("hands", "stem", "crown")
_STEADY = 0.005
"""A rate in s/day that the note's two places round to nothing."""


def handover(job, **_):
    """What the customer takes home in words: what was done, how it runs, how to set it, when the cell is due."""
    option = chosen_option(job)
    report, pairing = report_of(option), option.pairing if option else None
    movement = pairing.movement if pairing else None
    states = {stage.kind: stage.state for stage in job.stages.all()}
    way = _accepted_way(job)
    return _rate(job) | {
        "unfinished": [word for kind, word in Stage.Kind.choices[:-1] if states.get(kind) == Stage.State.AHEAD],
        "movement": movement,
        "has_date": bool(movement and movement.has_date),
        "has_seconds": bool(pairing and chosen_hands(pairing).get("seconds")),
        "screwed": bool(pairing and pairing.crown and pairing.crown.style == "screw"),
        "is_mechanical": bool(movement and movement.kind == "mechanical"),
        "has_cell": bool(movement and (movement.kind == "quartz" or (movement.cell_type and not movement.kind))),
        "cell_due": _cell_due(report),
        "replaced": [name for name in _REPLACEABLE if pairing and _is_replaced(job, way, pairing, name)],
        "accepted": way.lines.filter(kind="accept", taken=True) if way else [],
        "held_water": job.stages.filter(kind="handover", ticks__name=TIGHT).exists(),
        "spacer": bool(report and report.pairing.stack.thickness and states.get("holder") == Stage.State.DONE),
    }


def _accepted_way(job):
    quote = job.quotes.filter(state="accepted").first()
    return quote.parts.filter(accepted=True).first() if quote else None


def _is_replaced(job, way, pairing, name):
    """Whether a part is new: the customer agreed to buy it, or one from the drawer was used."""
    parts = [part.pk for of, part in pairing.brought_in if of == name]
    if not parts:
        return False
    if way and way.lines.filter(bought=name, kind="part", taken=True).exists():
        return True
    return job.stock_uses.filter(kind=BROUGHT_IN[name], part__in=parts, state=StockUse.State.USED).exists()


def _rate(job):
    """The last timing run of the finished watch, where it tells a rate: on the wrist if it is known for there.

    A rate that rounds to nothing counts as steady.
    """
    run = job.timing_runs.filter(as_found=False, archived=False).order_by("-pk").first()
    outcome = timing_runs.outcome(run, **timing_runs.terms_of(job)) if run else None
    if outcome is None or not outcome.tells_rate:
        return {"outcome": None}
    rate = outcome.fit.rate if outcome.at_wrist is None else outcome.at_wrist
    return {
        "outcome": outcome,
        "rate": rate,
        "per_month": rate * MONTH_DAYS,
        "is_steady": abs(rate) < _STEADY,
        "plot": mark_safe(plot_svg(outcome)),
    }


def _cell_due(report):
    life = report["cell-life"].value if report else None
    return timezone.localdate() + timedelta(days=life.value * MONTH_DAYS) if life is not None and life.known else None
