"""What the report said of a check and what the bench then said, for each bench rule that such a check stands by."""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass
from typing import Any

from django.db.models import Max

from jobs.models import Hindsight, Option, OptionReport
from parts.rules.edges import EDGES, Edge

MOST = 1_000
"""Jobs looked at, the newest ones: what a shop did ten years ago it did with other hands."""
_SAID = ("fits", "work", "no")


@dataclass(frozen=True, slots=True)
class CheckOutcome:
    """One check of one job: its value with the interval, the report's verdict, and the bench's."""

    number: str
    value: float
    low: float
    high: float
    said: str
    at_bench: str

    @property
    def went_well(self) -> bool:
        """Whether it fitted as it was."""
        return self.at_bench == Hindsight.Found.FITS

    def deciding(self, edge: Edge) -> float:
        """The end of the interval by which the fit check decides."""
        return self.low if edge.fits_above else self.high

    def fits_by(self, limit: float, edge: Edge) -> bool:
        """Whether it would be called fitting under a limit."""
        return self.deciding(edge) >= limit if edge.fits_above else self.deciding(edge) <= limit


def outcomes_by_rule() -> dict[str, list[CheckOutcome]]:
    """The outcomes by the name of each rule, newest job first. A job without a noted outcome has none."""
    outcomes: dict[str, list[CheckOutcome]] = defaultdict(list)
    for number, report, said_at_bench in _jobs():
        checks = {check["key"]: check for check in report["checks"]}
        for rule, edge in EDGES.items():
            for key in edge.checks:
                outcome = _outcome(number, checks.get(key), said_at_bench.get(key, ""))
                if outcome and _is_on_this_side(outcome, rule, edge, report.get("rules", {})):
                    outcomes[rule].append(outcome)
    return outcomes


def _jobs():
    """(job number, its last kept report, what the bench said by the check's key) of jobs with a noted outcome."""
    chosen = Option.objects.filter(chosen=True, job__outcome__word__gt="")
    newest = chosen.annotate(last=Max("reports__pk")).exclude(last=None).order_by("-job_id")[:MOST]
    reports = OptionReport.objects.filter(pk__in=list(newest.values_list("last", flat=True)))
    reports = reports.select_related("option__job").prefetch_related("option__job__hindsights")
    for saved in reports.order_by("-option__job_id").iterator(chunk_size=200):
        job = saved.option.job
        yield job.number, saved.report, {hindsight.check_key: hindsight.found for hindsight in job.hindsights.all()}


def _outcome(number: str, check: dict[str, Any] | None, at_bench: str) -> CheckOutcome | None:
    """The outcome; None where the report had no number or was unclear. Where nothing was noted it was as reported."""
    if check is None or check["value"] is None or check["verdict"] not in _SAID:
        return None
    value, said = check["value"], check["verdict"]
    low, high = (value if check.get(end) is None else check[end] for end in ("low", "high"))
    return CheckOutcome(number, value, low, high, said, at_bench or said)


def _is_on_this_side(outcome: CheckOutcome, rule: str, edge: Edge, rules: dict[str, float]) -> bool:
    """Whether the value lies on this edge's half of what fits, where it fits between two."""
    if not edge.other or rule not in rules or edge.other not in rules:
        return True
    middle = (rules[rule] + rules[edge.other]) / 2
    return outcome.value <= middle if edge.fits_above else outcome.value >= middle
