"""Measurements taken in a stage, written back to the records of the job's parts with their source.

A record that other pairings use too is not changed: the job gets a copy of its own, named after the job.
"""

from dataclasses import dataclass

from django.db import transaction

from jobs.history import record
from jobs.options import keep_report, options_of
from parts import library
from parts.dimension import format_dimension, read_dimension
from parts.fields import Source
from parts.fit.records import describe
from parts.kinds import KINDS

OF_STAGE = {
    "teardown": (
        "case.stem_axis_depth",
        "case.back_depth",
        "case.bore_diameter",
        "case.dial_seat_diameter",
        "case.crystal_gap_centre",
        "case.crystal_gap_edge",
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


@dataclass(frozen=True, slots=True)
class Asked:
    """A dimension that a stage asks for, as it stands in the chosen pairing."""

    path: str
    dimension: object
    stored: str
    source: str
    taken: str

    @property
    def phrase(self):
        """The dimension in words, with its part."""
        return describe(self.path).phrase


def asked_in(stage, pairing):
    """The dimensions that the stage asks for; those of parts that the pairing lacks are left out."""
    found = []
    for path in OF_STAGE.get(stage.kind, ()):
        if place := _place(pairing, path):
            holder, dimension = place
            taken = stage.measured.get(path, "")
            found.append(Asked(path, dimension, dimension.shown(holder), dimension.source(holder), taken))
    return found


@transaction.atomic
def write_back(*, stage, pairing, path, text, by, source=Source.MEASURED):
    """Store a measurement and keep every option's report anew; returns what changed in the chosen one.

    Raises DimensionError for text that is no dimension and ValidationError for one outside its limits.
    """
    place = _place(pairing, path)
    if place is None:
        raise KeyError(path)
    holder, dimension = place
    reading = read_dimension(text, unit=dimension.input.unit)
    if reading is None:
        return []
    holder = _own(stage.job, pairing, path, holder)
    before = dimension.shown(holder) or "not measured"
    dimension.put(holder, reading.value, reading.plus_minus, source)
    dimension.check(holder)
    holder.save()
    told = format_dimension(*reading, unit=dimension.input.unit)
    stage.measured = stage.measured | {path: told}
    stage.save(update_fields=["measured"])
    what = f"Measured: {path.split('.')[0]} {dimension.input.label}"
    record(job=stage.job, by=by, what=what, stage=stage.kind, before=before, after=dimension.shown(holder))
    changes = [
        (option, keep_report(option=option, why=what))
        for option in options_of(stage.job)
        if path.split(".")[0] in option.pairing.chosen
    ]
    return next((changed for option, changed in changes if option.pairing.pk == pairing.pk), [])


def _place(pairing, path):
    """The record and the Dimension that a path of the sheet means; None where the pairing lacks that part."""
    name, *rest = path.split(".")
    part = getattr(pairing, name)
    if part is None:
        return None
    if name == "hands":
        part = next((hand for hand in part.hands.all() if hand.role == rest[0]), None)
        return (part, part.dimensions[rest[1]]) if part else None
    return part, next(one for one in part.dimensions.values() if one.path == path)


def _own(job, pairing, path, holder):
    """The record to write to: the part itself, or a copy for this job where other pairings use it as well."""
    name = path.split(".")[0]
    part = getattr(pairing, name)
    if not part.pairings.exclude(job_option__job=job).exists():
        return holder
    users = list(part.pairings.filter(job_option__job=job))
    kind = next(kind for kind in KINDS.values() if isinstance(part, kind.model))
    original = part.name
    copy = library.copy_of(kind=kind, record=kind.model.objects.get(pk=part.pk))
    copy.name = f"{original[:66]}, {job.number}"
    copy.save()
    for user in users:
        setattr(user, name, copy)
        user.save()
    setattr(pairing, name, copy)
    return _place(pairing, path)[0]
