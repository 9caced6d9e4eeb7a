"""What the condition written down at intake asks for: a line of the quote, and a step at the bench.

Times are common practice, no source.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from django.utils.translation import gettext_noop as _

from jobs.models import Condition

if TYPE_CHECKING:
    from collections.abc import Iterator

    from jobs.models import Job

_BAD = (Condition.Finding.WORN, Condition.Finding.DAMAGED, Condition.Finding.MISSING)
_PARTS: dict[str, str] = {
    Condition.Subject.CRYSTAL: _("New crystal"),
    Condition.Subject.CROWN: _("New crown"),
    Condition.Subject.TUBE: _("New case tube"),
    Condition.Subject.GASKET: _("New gasket"),
}
_POLISH, _DRY = _("Polish the crystal"), _("Clean and dry the inside of the case")
_POLISH_MINUTES, _DRY_MINUTES = 15, 20


@dataclass(frozen=True, slots=True)
class Asked:
    """What one finding asks for; `minutes` is None for a part, `optional` what the customer may do without."""

    condition: Condition
    message: str
    minutes: int | None = None
    optional: bool = False

    @property
    def seen(self) -> str:
        """What was found, as a sentence of the bench begins."""
        if self.condition.subject == Condition.Subject.WATER:
            return "Signs of water at intake"
        subject, finding = self.condition.get_subject_display(), self.condition.get_finding_display()
        return f"{subject.capitalize()} {finding} at intake"

    @property
    def step(self) -> str:
        """The line of the checklist."""
        if self.condition.subject == Condition.Subject.WATER:
            return f"{self.seen}: inside of the case cleaned and dried."
        return f"{self.seen}: put right, or left as agreed with the customer."


def asked_at_intake(job: Job) -> Iterator[Asked]:
    """What the findings of the job ask for; dial, hands and movement are the conversion's own business."""
    for condition in job.conditions.all():
        subject, finding = condition.subject, condition.finding
        if subject == Condition.Subject.WATER and finding == Condition.Finding.YES:
            yield Asked(condition, _DRY, _DRY_MINUTES)
        elif subject in _PARTS and finding in _BAD:
            worn = finding == Condition.Finding.WORN
            if worn and subject == Condition.Subject.CRYSTAL:
                yield Asked(condition, _POLISH, _POLISH_MINUTES, optional=True)
            else:
                yield Asked(condition, _PARTS[subject], optional=worn and subject != Condition.Subject.GASKET)
