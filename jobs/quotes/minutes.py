"""How long work takes: bench rules to begin with, the shop's own history once there is one.

A finished job's time counts by its stage; what a quote proposes is the median of the jobs on the same case family and
movement, else on the same movement, else of all, and the time that four of five of them kept to as contingency.
"""

from __future__ import annotations

from dataclasses import dataclass
from statistics import median, quantiles
from typing import TYPE_CHECKING, Any

from django.db.models import DurationField, ExpressionWrapper, F, Sum

from jobs.models import Job, Stage, WorkTime

if TYPE_CHECKING:
    from parts.models import CaseFamily, Movement

STANDING = {"teardown": 30, "holder": 60, "dial": 25, "hands": 25, "stem": 20, "timing": 10, "handover": 15}
"""Minutes of the routine work of a conversion by stage; common practice, no source."""
_FEWEST = 3
"""Jobs that a history needs before it is believed."""


@dataclass(frozen=True, slots=True)
class Estimate:
    """Minutes that a stage takes: the middle, what 80 % kept to, and what it rests on in words."""

    minutes: int
    contingency: int
    basis: str
    jobs: int = 0

    @property
    def in_words(self):
        """The basis in words; what 80 % kept to only where jobs of the shop stand behind it."""
        return f"{self.basis}; 4 of 5 jobs took up to {self.contingency} min" if self.jobs else self.basis


def estimate(kind: str, *, case_family: CaseFamily | None = None, movement: Movement | None = None) -> Estimate:
    """The Estimate of a stage (its kind's word)."""
    narrowings: list[tuple[str, dict[str, Any]]] = []
    if movement and case_family:
        narrowings.append(("same case family and movement", {"movement": movement, "case_family": case_family}))
    if movement:
        narrowings.append(("same movement", {"movement": movement}))
    narrowings.append(("all finished jobs", {}))
    for words, only in narrowings:
        spent = _spent(kind, **only)
        if len(spent) >= _FEWEST:
            point = quantiles(spent, n=5, method="inclusive")[3]
            return Estimate(round(median(spent)), round(point), f"median of {len(spent)} jobs, {words}", len(spent))
    minutes = STANDING[kind]
    return Estimate(minutes, minutes, "default, until 3 jobs are finished")


def _spent(kind: str, *, case_family: CaseFamily | None = None, movement: Movement | None = None) -> list[float]:
    """Minutes spent in this stage of each finished job, those without recorded time left out."""
    stages = Stage.objects.filter(kind=kind, state=Stage.State.DONE, job__state=Job.State.FINISHED)
    if case_family:
        stages = stages.filter(job__case_family=case_family)
    if movement:
        stages = stages.filter(job__options__chosen=True, job__options__pairing__movement=movement)
    took = ExpressionWrapper(F("ended") - F("started"), output_field=DurationField())
    times = WorkTime.objects.filter(stage__in=stages, undone=False, ended__isnull=False)
    sums = times.order_by().values("stage").annotate(took=Sum(took)).values_list("took", flat=True)
    return [duration.total_seconds() / 60 for duration in sums]
