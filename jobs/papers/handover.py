"""What the handover note tells: only what is on record of this job, so that every sentence is true of this watch."""

from __future__ import annotations

from datetime import timedelta
from typing import TYPE_CHECKING, Any

from django.utils import timezone
from django.utils.safestring import mark_safe
from django.utils.translation import gettext

from jobs.invoices.account import accepted_way, saved_account
from jobs.language.choices import spoken
from jobs.models import Stage, StockUse
from jobs.options.choosing import chosen_option, report_of
from jobs.papers.dates import months_later
from jobs.papers.named import named
from jobs.photos.arranging import pairs_of
from jobs.quotes.composed import say_ways
from jobs.stages.checklist import TIGHT
from jobs.stages.progress import ORDER
from jobs.timing import timing_runs
from jobs.timing.plot import plot_svg
from parts.fit.units import MONTH_DAYS
from parts.library.kinds import BROUGHT_IN
from parts.sheets import shows_seconds

if TYPE_CHECKING:
    from jobs.models import Job, Shop

_FINISHED = ("hands", "stem", "timing", "handover")
"""Stages whose last picture shows the watch with its hands on."""
MOST_PAIRS = 4
"""Pairs of photos, before and after, that the note shows."""
_STEADY = 0.005
"""A rate in s/day that the note's two places round to nothing."""


def handover(job: Job, *, shop: Shop, **_: Any) -> dict[str, Any]:
    """What the customer takes home in words: what was done, how it runs, how to set it, when the cell is due."""
    option = chosen_option(job)
    report, pairing = report_of(option), option.pairing if option else None
    movement = pairing.movement if pairing else None
    states = {stage.kind: stage.state for stage in job.stages.all()}
    way = accepted_way(job.quotes.all())
    say_ways([way] if way else [], spoken())
    work, parts = (way.work, way.parts) if way else ([], [])
    unfinished = [gettext(word) for kind, word in Stage.Kind.choices[:-1] if states.get(kind) == Stage.State.AHEAD]
    ticked = set(job.stages.filter(kind="handover").values_list("ticks__name", flat=True))
    return (
        _rate(job)
        | _before_and_after(job)
        | {
            "watch": named(way.part.quote.watch if way else job.title, job),
            "unfinished": unfinished,
            "movement": movement,
            "has_date": bool(movement and movement.has_date),
            "has_seconds": bool(pairing and shows_seconds(pairing)),
            "screwed": bool(pairing and pairing.crown and pairing.crown.style == "screw"),
            "is_mechanical": bool(movement and movement.kind == "mechanical"),
            "has_cell": bool(movement and _may_have_cell(movement, job)),
            "cell_due": _cell_due(report),
            "work": [line for line in work if line.taken],
            "new_parts": [line for line in parts if line.taken],
            "new_crown": bool(pairing and _is_new_crown(job, parts, pairing)),
            "way": way,
            "account": saved_account(job),
            "accepted": way.accept if way else [],
            "held_water": TIGHT in ticked,
            "pressure_bar": job.stages.get(kind="handover").pressure_bar,
            "parts_back": "old-parts-packed" in ticked,
            "warranty_until": _warranty_until(shop) if not unfinished else None,
        }
    )


def _is_new_crown(job, parts, pairing):
    """Whether a crown was bought for the watch, or one from stock used."""
    if any(line.bought == "crown" and line.taken for line in parts):
        return True
    used = job.stock_uses.filter(kind=BROUGHT_IN["crown"], state=StockUse.State.USED)
    return bool(pairing.crown) and used.filter(part=pairing.crown.pk).exists()


def _warranty_until(shop):
    return months_later(timezone.localdate(), shop.warranty_months) if shop.warranty_months else None


def _before_and_after(job):
    """The pairs that were chosen, else a picture of the watch as it came and one of it finished, else its cover."""
    photos = [photo for photo in job.photos.filter(archived=False) if not photo.has_money]
    cover = next((photo for photo in photos if photo.is_cover), None)
    pairs = pairs_of(photos)[:MOST_PAIRS] or _found(photos)
    shown = [photo for pair in pairs for photo in pair] or [photo for photo in (cover,) if photo]
    return {"pairs": pairs, "cover": cover, "large_photos": shown}


def _found(photos):
    """As it came and finished, by the stages that they were taken in; none where there are not both."""
    before = next((photo for photo in photos if photo.stage == Stage.Kind.INTAKE), None)
    finished = [photo for photo in photos if photo.stage in _FINISHED]
    after = max(finished, key=lambda photo: (ORDER.index(photo.stage), photo.place, photo.pk), default=None)
    return [(before, after)] if before and after else []


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
        "plot": mark_safe(plot_svg(outcome, "narrow")),
    }


def _may_have_cell(movement, job):
    """Whether to warn of a button cell: where nobody said what a movement is, as soon as anything speaks for one."""
    return movement.runs_on_cell or (not movement.kind and "quartz" in job.wish.lower())


def _cell_due(report):
    life = report["cell-life"].value if report else None
    return timezone.localdate() + timedelta(days=life.value * MONTH_DAYS) if life is not None and life.known else None
