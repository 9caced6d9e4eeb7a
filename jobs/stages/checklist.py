"""What is to be done in each stage, drawn from the fit report of the chosen pairing.

An item's key holds the facts that it states: when a number in it changes, its tick no longer counts. Its words may be
put differently at any time.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from hashlib import blake2s
from typing import Any

from jobs.condition import asked_at_intake
from jobs.models import Condition, Job
from parts.fit.units import with_unit
from parts.fit.verdicts import without_count
from parts.pairings.page import hand_heights

TIGHT = "tight"
"""The item that says that the pressure test held."""


CUTS = 3
"""Steps of a whole cut plan; a shorter one lacks the first, and the last step is the same in each."""


@dataclass(frozen=True, slots=True)
class Item:
    """One line of a checklist; a required one holds the stage open. `facts` are what it states beside its name."""

    name: str
    text: str
    required: bool = True
    facts: tuple = ()

    @property
    def key(self):
        return (
            f"{self.name}-{blake2s(repr(self.facts).encode(), digest_size=4).hexdigest()}" if self.facts else self.name
        )


@dataclass(frozen=True, slots=True)
class Line:
    """An item with its tick, None where it is open; `is_past` is one that was ticked and is asked for no longer."""

    item: Item
    tick: Any
    is_past: bool = False

    @property
    def is_open(self):
        """Whether it still has to be done before the stage can be closed."""
        return self.item.required and not self.tick


def lines_of(kind, report, job, ticks):
    """The checklist of a stage with its ticks, those of items that are asked for no longer first.

    A tick holds as long as the item's facts or its words are those that were ticked, so that a measurement takes back
    only what it changes. What is asked for no longer, such as a cut once the stem is short, stays as it was done.
    """
    items, ticks = items_of(kind, report, job), sorted(ticks, key=lambda tick: tick.pk)
    by_key, by_text = ({getattr(tick, name): tick for tick in ticks} for name in ("key", "text"))
    names = {item.name for item in items}
    past = {tick.name: tick for tick in ticks if tick.text and tick.name not in names}
    lines = [Line(Item(tick.name, tick.text, required=False), tick, is_past=True) for tick in past.values()]
    return lines + [Line(item, by_key.get(item.key) or by_text.get(item.text)) for item in items]


_REMEDIES = {
    "holder": ("case-bore", "holder-wall", "stem-height", "back-gap", "front-opening"),
    "dial": (
        *("dial-bore", "dial-seat", "dial-opening", "dial-trim", "dial-furniture", "dial-sunk", "dial-held"),
        *("centre-hole", "hole-cover", "dial-feet", "pad-room", "hour-wheel"),
        *("date-present", "date-tilt", "date-position", "date-cut", "date-neighbours", "date-disc", "date-depth"),
        *("day-tilt", "day-position", "day-cut", "day-neighbours", "sub-place", "ring-gap"),
    ),
    "hands": (
        *(f"post-{name}" for name in ("hour", "minute", "seconds")),
        *("gap-hour-dial", "gap-hour-minute", "gap-minute-seconds", "gap-furniture", "gap-crystal", "tip-clearance"),
        *("reach-hour", "reach-minute", "sub-post", "sub-gap"),
    ),
    "stem": ("stem-thread", "stem-tube", "crown-tube", "joint-clear", "cell-life"),
}
"""The checks whose remedies belong to a stage."""


def items_of(kind, report, job):
    """The checklist of a stage (its kind's word); `report` is None where no pairing is chosen."""
    return list({item.key: item for item in _ITEMS[kind](report, job)}.values())


def _remedies(kind, report):
    if report is None:
        return
    for check in report.checks:
        if without_count(check.key) in _REMEDIES[kind]:
            for number, remedy in enumerate(check.remedies):
                facts = (str(check.verdict), remedy.kind, _rounded(check.value.value))
                yield Item(f"{check.key}-{number}", remedy.text, check.must, facts)


def _asked_at_intake(job: Job, *, water: bool) -> Iterator[Item]:
    """The steps that what was found at intake asks for: signs of water at once, the rest before the watch is closed."""
    for asked in asked_at_intake(job):
        if (asked.condition.subject == Condition.Subject.WATER) is water:
            yield Item(f"intake-{asked.condition.subject}", asked.step, facts=(asked.condition.finding,))


def _is_front_loaded(report):
    return report is not None and report.pairing.case.is_front_loaded


def _intake(report, job):
    yield Item("receipt", "The customer has a receipt, and the tray a label.", required=False)


def _teardown(report, job):
    opened = "the crystal" if _is_front_loaded(report) else "the back"
    yield Item("photographed", f"Photographed before opening, and again with {opened} off.")
    if job.luminous in (job.Luminous.AGED, job.Luminous.MARKED):
        yield Item("bagged", "Old hands and dial lifted without touching the luminous paint, and bagged.")
    yield Item("date-cleared", "Hands turned clear of the date change, dial covered, hands lifted.")
    yield from _asked_at_intake(job, water=True)
    yield Item("feet-free", "Dial foot screws loosened before lifting the dial.")
    yield Item("old-parts", "Everything taken out is in the tray with this job's number.")
    if job.keep:
        yield Item("keep", f"Set aside to be kept: {job.keep}", facts=(job.keep,))


def _holder(report, job):
    yield from _remedies("holder", report)
    if report is None:
        return
    stack = report.pairing.stack
    if stack.thickness:
        facts = (stack.placement, _rounded(stack.thickness))
        or_floor = ", or the holder's floor," if stack.placement == "floor" else ""
        yield Item("spacer-side", f"Spacer of {_mm(stack.thickness)}{or_floor} fitted {stack.where}.", facts=facts)
    yield Item("no-twist", "Movement sits flat and does not twist when the crown is pulled.")
    if _is_front_loaded(report):
        yield Item("ring-closes", "The ring over the dial closes without bending the dial, and nothing rattles.")
    else:
        yield Item("back-closes", "The case back closes without pressing on the movement.")


def _dial(report, job):
    yield from _remedies("dial", report)
    if report is None:
        return
    if _works(report, "dial-feet"):
        disc = "" if report.pairing.movement.date is False else "the date disc and "
        yield Item("pads-clear", f"Dial pads clear of {disc}the holder ring.")
    yield Item("washer", "Dial washer back on over the hour wheel.")
    if report.pairing.date:
        yield Item("date-in-window", "Date run through all 31 days: centred, nothing rubs.")
    yield Item("dial-clean", "Dial and inside of the crystal free of dust and marks.")


def _hands(report, job):
    yield from _remedies("hands", report)
    if report is None:
        return
    if report.pairing.movement.date:
        yield Item("date-snap", "Hour hand set to 12 as the date jumps.")
        yield Item("midnight", "Date changes within five minutes of midnight.")
    for hand in hand_heights(report):
        name, height = hand["name"], hand["height"]
        if height is not None:
            text = f"Top of the {name} hand {_mm(height)} above the dial."
            yield Item(f"height-{name}", text, facts=(_rounded(height),))
    yield Item("turns-crown", "Hands turned several times by the crown: nothing rubs.")
    yield Item("turns-motor", "Hands run by themselves for a few minutes: nothing rubs; listen closely.")


def _stem(report, job):
    yield from _remedies("stem", report)
    if report is None:
        return
    steps = () if _is_cut(report) else report.stem.steps
    for number, step in enumerate(steps, start=CUTS - len(steps)):
        yield Item(f"cut-{number}", f"{step.text}: {_mm(step.length)}.", facts=(_rounded(step.length),))
    if report.stem.disagreement is not None and not _is_cut(report):
        text = f"The two stem lengths are {_mm(abs(report.stem.disagreement))} apart: settled before cutting."
        yield Item("two-ways", text, facts=(_rounded(report.stem.disagreement),))
    yield Item("positions", "Crown pushes home and pulls to each position; dust kept out of the case.")


def _is_cut(report):
    """Whether the stem is no longer than it may stay: nothing is cut then, and the gap was that of the uncut stem."""
    left = report["stem-length"].value
    return left.known and left.value <= report.pairing.rules.stem_long_ok


def _timing(report, job):
    yield Item("voltage", "With a cell: its voltage and the current draw measured.", required=False)


def _handover(report, job):
    yield from _asked_at_intake(job, water=False)
    closed = "Case" if _is_front_loaded(report) else "Case back"
    yield Item("closed", f"{closed} closed on a sound gasket; crown and tube clean.")
    yield Item("pressure", "Pressure-tested, or the handover note says it was not.")
    yield Item(TIGHT, "Passed the pressure test (the handover note then says so).", required=False)
    yield Item(
        "old-parts-packed", "Old parts bagged for the customer; an old cell, if there was one, disposed of properly."
    )
    yield Item("set", "Time and date set; handover note printed.")


_ITEMS = {
    "intake": _intake,
    "teardown": _teardown,
    "holder": _holder,
    "dial": _dial,
    "hands": _hands,
    "stem": _stem,
    "timing": _timing,
    "handover": _handover,
}


def _works(report, key):
    return any(check.key == key and check.verdict == "work" for check in report.checks)


def _mm(value):
    return with_unit(value, "mm")


def _rounded(value):
    """A number as far as it is shown; None where it is not known."""
    return None if value is None else round(value, 2)
