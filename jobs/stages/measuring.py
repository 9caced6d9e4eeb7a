"""Measurements taken in a stage, written back to the records of the job's parts with their source.

A record that other pairings use too is not changed: the job gets a copy of its own, named after the job.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from django.db import transaction

from jobs.history import record
from jobs.history_words import in_words
from jobs.models import Event, Stage
from jobs.options.choosing import keep_report, options_of
from parts.dimensions.field import Source
from parts.dimensions.in_hand import NOTHING_IN_HAND, InHand
from parts.dimensions.text import format_dimension
from parts.fit.constructions import FRONT_NUMBERS
from parts.fit.records import describe, input_of
from parts.fit.units import unit_word
from parts.library import part_records
from parts.library.kinds import KIND_OF
from parts.library.measured import taken_at
from parts.pairings.placing import field_of, is_of_its_build, place_of, placed
from parts.tools.stale_guard import StalePage

if TYPE_CHECKING:
    from django.contrib.auth.models import User

    from jobs.models import Job
    from parts.models import Pairing


OF_STAGE = {
    "teardown": (
        "case.stem_axis_depth",
        "case.back_depth",
        "case.bore_diameter",
        "case.dial_seat_diameter",
        "case.crystal_gap_centre",
        "case.crystal_gap_edge",
        *(f"case.{name}" for name in FRONT_NUMBERS),
        "case.crown_seat_radius",
        "dial.diameter",
        "dial.thickness",
        "dial.centre_hole_diameter",
    ),
    "holder": ("movement.fit_diameter", "movement.overall_diameter", "movement.back_height", "case.bore_diameter"),
    "dial": ("dial.thickness", "dial.centre_hole_diameter", "dial.diameter"),
    "hands": tuple(
        f"hands.{name}.{what}"
        for name in ("hour", "minute", "seconds")
        for what in ("hole_diameter", "hub_height", "mass", "centre_of_mass")
    ),
    "stem": ("stem.length", "stem.uncut_gap", "stem.thread", "crown.bore_depth", "case.crown_seat_radius"),
    "timing": ("movement.current",),
}
"""The dimensions that a stage asks for, as paths of the pairing sheet."""


def stage_for(job: Job, path: str) -> Stage:
    """The stage that a number belongs to which is measured outside of any: the next one, best one that asks for it."""
    stages = list(job.stages.order_by("pk"))
    ahead = [stage for stage in stages if stage.state == Stage.State.AHEAD] or stages[-1:]
    return next((stage for stage in ahead if path in OF_STAGE.get(stage.kind, ())), ahead[0])


@dataclass(frozen=True, slots=True)
class Asked:
    """A dimension that a stage asks for, as it stands in the chosen pairing."""

    path: str
    dimension: object
    stored: str
    source: str
    source_code: str
    taken: str

    @property
    def unit(self):
        return unit_word(self.dimension.input.unit)

    @property
    def picked(self):
        """The source that the row begins with: that of what was taken in this stage, otherwise measured."""
        return self.source_code if self.taken and self.stored else Source.MEASURED

    @property
    def phrase(self):
        """The dimension in words, with its part."""
        return describe(self.path).phrase


def asked_in(stage, pairing):
    """The dimensions that the stage asks for or took; those that the pairing's parts do not have are left out."""
    dimensions = []
    for path in dict.fromkeys((*OF_STAGE.get(stage.kind, ()), *stage.measured)):
        if place := place_of(pairing, path):
            holder, dimension = place
            taken = stage.measured.get(path, "")
            if not taken and not is_of_its_build(pairing, path):
                continue
            words = dimension.shown(holder), dimension.source(holder)
            dimensions.append(Asked(path, dimension, *words, dimension.of(holder)[2], taken))
    return dimensions


class NotKnown(ValueError):
    """What stood there before is not on record, so a measurement cannot be undone; says what to do."""


@dataclass(frozen=True, slots=True)
class Entry:
    """What was typed into one row: `was` and `stood` are the row's text and the record's value as the page had them."""

    path: str
    text: str
    source: str
    was: str
    stood: str | None


def typed(stage, pairing, data):
    """The rows of a sent page that were changed in it."""
    entries = []
    for asked in asked_in(stage, pairing):
        path = asked.path
        text, was = data.get(path, "").strip(), data.get(f"{path}-was", asked.taken)
        source = data.get(f"{path}-source", asked.picked)
        source = source if source in Source.values else Source.MEASURED
        again = text == was and source == data.get(f"{path}-source-was", asked.picked)
        if not again and (text or was):
            entries.append(Entry(path, text, source, was, data.get(f"{path}-stood")))
    return entries


@transaction.atomic
def store(*, stage: Stage, pairing: Pairing, entry: Entry, by: User, hand: InHand = NOTHING_IN_HAND) -> list[str]:
    """Store a row, or undo its measurement where it was emptied; as `write_back`, also raises StalePage, NotKnown.

    Stage and record are read again with their rows held, so that nothing stored elsewhere meanwhile is lost.
    """
    stage = Stage.objects.select_for_update(of=("self",)).select_related("job").get(pk=stage.pk)
    holder, _ = placed(pairing, entry.path)
    type(holder)._base_manager.select_for_update().get(pk=holder.pk)
    pairing = type(pairing).objects.with_parts().get(pk=pairing.pk)
    holder, dimension = placed(pairing, entry.path)
    if entry.stood not in (None, dimension.shown(holder)):
        raise StalePage(
            f"Someone changed this: now {dimension.shown(holder) or 'not measured'}. Save again to use yours."
        )
    if entry.text:
        return write_back(
            stage=stage,
            pairing=pairing,
            path=entry.path,
            text=entry.text,
            by=by,
            source=Source(entry.source),
            hand=hand,
        )
    return undo(stage=stage, pairing=pairing, path=entry.path, by=by)


@transaction.atomic
def write_back(
    *,
    stage: Stage,
    pairing: Pairing,
    path: str,
    text: str,
    by: User,
    source: str = "",
    hand: InHand = NOTHING_IN_HAND,
) -> list[str]:
    """Store a measurement and keep every option's report anew; returns what changed in the chosen one.

    A bare number takes the plus-minus of the instrument in hand, or of what its `source` says. Raises ValidationError
    for what is no dimension or outside its limits.
    """
    placed(pairing, path)
    source = source or hand.source
    taken = taken_at(path, text, hand, source)
    source = Source.AT_LEAST if taken.at_least else source
    spec = input_of(path)
    shown = format_dimension(taken.value, taken.plus_minus, unit=spec.unit, at_least=taken.at_least)
    measured = stage.measured | {path: shown}
    reading = (taken.value, taken.plus_minus, source, taken.record)
    return _put(stage, pairing, path, reading, by, kind=Event.Kind.MEASURED, measured=measured)


@transaction.atomic
def undo(*, stage: Stage, pairing: Pairing, path: str, by: User) -> list[str]:
    """Undo what was measured in the stage: what stood there before it stands there again, with its source.

    Raises NotKnown, and changes nothing, where the history does not hold what stood there.
    """
    stood = _stood_before(stage, path)
    reading = (
        (stood["value"], stood["plus_minus"], Source(stood["source"]), stood.get("taken"))
        if stood
        else (None, 0.0, Source.MEASURED, None)
    )
    left = {key: text for key, text in stage.measured.items() if key != path}
    return _put(stage, pairing, path, reading, by, kind=Event.Kind.MEASUREMENT_UNDONE, measured=left)


def _stood_before(stage, path):
    """What stood there before the stage's measurements that are not undone: as `_stored` gave it. Raises NotKnown.

    An event of which it is not on record what it measured (its path) may be of this dimension.
    """
    first = None
    for event in stage.job.events.filter(
        stage=stage.kind, kind__in=(Event.Kind.MEASURED, Event.Kind.MEASUREMENT_UNDONE)
    ):
        if event.data.get("path", path) != path:
            continue
        if event.kind == Event.Kind.MEASUREMENT_UNDONE:
            break
        first = event
    if first is None or not {"path", "before"} <= first.data.keys():
        raise NotKnown(
            "The number before this one is no longer known, so this cannot be undone. Type the right number instead."
        )
    return first.data["before"]


def _put(
    stage: Stage,
    pairing: Pairing,
    path: str,
    reading: tuple[float | None, float, str, Any],
    by: User,
    *,
    kind: str,
    measured: Any,
) -> list[str]:
    holder, dimension = placed(pairing, path)
    holder = _own(stage, pairing, path, holder, by)
    before = _stored(holder, dimension)
    dimension.put(holder, *reading)
    dimension.check(holder)
    holder.save()
    stage.measured = measured
    stage.save(update_fields=["measured"])
    facts = {"path": path, "before": before, "after": _stored(holder, dimension)}
    event = record(job=stage.job, by=by, kind=kind, data=facts, stage=stage.kind)
    changes = [
        (option, keep_report(option=option, why=in_words(event).what))
        for option in options_of(stage.job)
        if path.split(".", maxsplit=1)[0] in option.pairing.chosen
    ]
    return next((changed for option, changed in changes if option.pairing.pk == pairing.pk), [])


def _stored(holder, dimension):
    """What the record holds, for the history; None where it is not measured."""
    value, plus_minus, source = dimension.of(holder)
    if value is None:
        return None
    how = holder.taken.get(dimension.name)
    return {"value": value, "plus_minus": plus_minus, "source": source} | ({"taken": how} if how else {})


def _own(stage, pairing, path, holder, by):
    """The record to write to: the part itself, or a copy for this job where other pairings use it as well."""
    name, job = path.split(".")[0], stage.job
    part = getattr(pairing, field_of(pairing, path))
    uses = type(pairing).objects.using(part, name)
    if not uses.exclude(job_option__job=job).exists():
        return holder
    copy = part_records.own_copy(kind=KIND_OF[name], record=part, made_for=job.number)
    for user in (*uses.filter(job_option__job=job), pairing):
        user.exchange(part, copy)
        user.save()
    facts = {"part": name, "copy": copy.pk, "original": part.pk}
    names = {"before": part, "after": copy}
    record(job=job, by=by, kind=Event.Kind.OWN_COPY, data=facts, stage=stage.kind, **names)
    return placed(pairing, path)[0]
