"""The job sheet: the bench's working paper, with everything that the person there needs in hand."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from jobs import luminous
from jobs.invoices.account import accepted_way
from jobs.language.choices import spoken
from jobs.options.choosing import chosen_option, report_of
from jobs.options.keeping import is_own
from jobs.quotes.composed import say_ways
from jobs.stages import measuring
from jobs.stages.checklist import lines_of
from jobs.stages.progress import ORDER
from parts.designs.page import design_drawings
from parts.designs.revisions import latest_design
from parts.dimensions.field import Source
from parts.fit.drawings import dial_svg, section_svg, stack_svg
from parts.fit.units import with_unit
from parts.pairings.page import hand_heights
from parts.sheets import chosen_hands
from parts.tools.papers.pdf import to_scale

if TYPE_CHECKING:
    from collections.abc import Iterator

    from jobs.models import Job
    from parts.fit import Report
    from parts.models import Pairing

WIDE, LARGER, SMALLER = 178.0, 100.0, 76.0
"""mm between the margins for a drawing alone, and for the two of a pair."""
MOST_PHOTOS = 40
"""Photos that a job sheet shows, each as its small picture."""
_PHOTOS_IN_ROW = 4
_MEASURED_IN = ("teardown", "holder", "dial", "hands", "stem")


@dataclass(frozen=True, slots=True)
class Part:
    """A part of the finished watch: what it is, its name, and what the bench should know of it."""

    what: str
    name: str
    note: str = ""


def sheet(job: Job, **_: Any) -> dict[str, Any]:
    """Whose watch, its parts, drawings in pairs, what is left to measure, and every stage's checklist."""
    option = chosen_option(job)
    report = report_of(option)
    stages = {stage.kind: stage for stage in job.stages.prefetch_related("ticks")}
    lists = [
        (stages[kind], lines)
        for kind in ORDER[1:]
        if (lines := [(line.item, line.tick) for line in lines_of(kind, report, job, stages[kind].ticks.all())])
    ]
    photos = [photo for photo in _cover_first(job) if not photo.has_money][:MOST_PHOTOS]
    facts = {
        "option": option,
        "report": report,
        "conditions": [line for line in job.conditions.all() if line.finding or line.remark],
        "columns": _in_columns(lists),
        "blocked": luminous.is_blocked(job),
        "cautions": luminous.CAUTIONS,
        "clearances": job.clearances.filter(undone=False),
        "accepted": _accepted(job, report),
        "photos": photos,
        "captioned": _in_rows([photo for photo in photos if photo.caption], _PHOTOS_IN_ROW),
        "uncaptioned": [photo for photo in photos if not photo.caption],
    }
    if report is None:
        return facts
    designs = _designs(job, option.pairing)
    open_rows, measured = _to_measure(stages, option.pairing, report)
    return facts | {
        "parts": list(_parts(option.pairing, report, [design for design, _ in designs])),
        "heights": hand_heights(report),
        "designs": designs,
        "to_measure": open_rows,
        "measured": measured,
        "section": to_scale(section_svg, report, WIDE),
        "dial": to_scale(dial_svg, report, LARGER),
        "stack": to_scale(stack_svg, report, SMALLER),
    }


def _cover_first(job):
    return job.photos.filter(archived=False).order_by("-is_cover", "place", "pk")


def _in_rows(items: list[Any], wide: int) -> list[list[Any]]:
    """Rows of `wide` items, the last one filled up with None."""
    filled = [*items, *[None] * (-len(items) % wide)]
    return [filled[i : i + wide] for i in range(0, len(filled), wide)]


def _in_columns(lists: list[Any]) -> tuple[list[Any], list[Any]]:
    """Checklists in their order in two columns, as even as they can be."""
    lines = [len(items) + 2 for _, items in lists]
    first = min(range(len(lists) + 1), key=lambda i: abs(2 * sum(lines[:i]) - sum(lines)))
    return lists[:first], lists[first:]


def _accepted(job: Job, report: Report | None) -> dict[str, Any]:
    """What the customer accepts, in full: as it was agreed, or as the report has it while nothing is agreed yet."""
    if way := accepted_way(job.quotes.all()):
        say_ways([way], spoken())
        return {"agreed": way.part.quote, "lines": [line.text for line in way.accept]}
    asked = report.asked_for if report else ()
    return {"agreed": None, "lines": [remedy.text for _, remedy in asked if remedy.kind == "accept"]}


def _parts(pairing: Pairing, report: Report, designs: list[Any]) -> Iterator[Part]:
    """Everything that the finished watch is put together from, in the order in which it is built up."""
    if pairing.case:
        yield Part("case", str(pairing.case), "stays")
    if pairing.movement:
        yield Part("movement", str(pairing.movement), pairing.movement.get_kind_display())
    for design in designs:
        yield Part(design.get_kind_display(), f"revision {design.revision}", design.get_result_display())
    if not designs and (ring := _ring_in_words(report)):
        yield Part("holder ring", ring)
    if pairing.dial:
        yield Part("dial", str(pairing.dial), _fixing(pairing, report))
    hands = [(role, pairing.hand_set_for(role)) for role, hand in chosen_hands(pairing).items() if hand]
    hands += [(post, getattr(pairing, field)) for post, field in pairing.small_hands.items()]
    for name, hand_set in hands:
        yield Part(f"{name} hand", str(hand_set), "the watch's own" if is_own(hand_set) else "")
    if pairing.stem:
        yield Part(
            "stem", str(pairing.stem), "" if report.stem.length is None else f"cut to L {_mm(report.stem.length)}"
        )
    if pairing.crown:
        yield Part("crown", str(pairing.crown), pairing.crown.get_style_display())
    if pairing.movement and pairing.movement.cell_type:
        yield Part("cell", pairing.movement.cell_type)


def _fixing(pairing: Pairing, report: Report) -> str:
    feet = [mark.foot for mark in report.foot_marks if mark.foot is not None]
    if pairing.dial.fixing == "pads":
        return "on pads"
    return f"{len(feet)} of its feet in the movement's holes" if feet else ""


def _ring_in_words(report: Report) -> str:
    """The holder ring from the check of its wall; empty where there is none or it cannot be told."""
    wall, inside = report["holder-wall"].value, report.pairing.movement.fit_diameter
    if not wall.known or wall.value <= 0:
        return ""
    outside = inside.value + 2 * wall.value
    return f"outside {_mm(outside)}, inside {_mm(inside.value)}, wall {_mm(wall.value)}"


def _mm(length: float) -> str:
    return with_unit(length, "mm")


def _designs(job: Job, pairing: Pairing) -> list[Any]:
    """The saved designs of holder ring and spacer to work by, each with its drawings at stated scales."""
    family = job.case_family or (pairing.case and pairing.case.family)
    if family is None or pairing.movement is None:
        return []
    designs = (latest_design(family, pairing.movement, kind) for kind in ("ring", "spacer"))
    return [(design, design_drawings(design, section=WIDE, plan=LARGER, walls=WIDE)) for design in designs if design]


def _to_measure(stages: dict[str, Any], pairing: Pairing, report: Report) -> tuple[list[Any], int]:
    """The dimensions that are still worth taking, and how many others are measured already.

    Worth taking is what is not known or only estimated, and what a verdict waits for.
    """
    asked = {row.path: row for kind in _MEASURED_IN for row in measuring.asked_in(stages[kind], pairing)}
    wanted = {path for path, _ in report.measure_next}
    firm = Source.MEASURED, Source.SHEET
    rows = [row for row in asked.values() if not row.stored or row.source_code not in firm or row.path in wanted]
    return rows, len(asked) - len(rows)
