"""What a design is worked out from: the pairing's report, the surroundings, the proposals and where it starts."""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import Any

from parts.designs.correction import measured_processes
from parts.designs.forms import typed_text
from parts.designs.revisions import as_typed, latest_design, next_revision
from parts.fit import check_sheet
from parts.holder.proposals import Measured, Proposed, propose
from parts.holder.surroundings import Surroundings, surroundings
from parts.models import CaseFamily, HolderDesign, Movement, Pairing
from parts.pairings.answer import answer


@dataclass(frozen=True, slots=True)
class Workbench:
    """One piece on the bench; `design` is the kept revision that it shows, `before` the one that it starts from."""

    kind: str
    family: CaseFamily
    movement: Movement
    pairing: Pairing | None
    design: HolderDesign | None
    before: HolderDesign | None
    around: Surroundings
    measured: Measured

    def propose(self, chosen: Mapping[str, Any]) -> dict[str, Proposed]:
        """The proposals for a piece that is made as chosen."""
        words = self.pairing.made_for[:12] if self.pairing and self.pairing.is_of_a_job else ""
        proposals = propose(self.kind, self.around, chosen, words, self.measured)
        if self.pairing is None:
            return {name: replace(item, note="no fit check is chosen") for name, item in proposals.items()}
        return proposals

    @property
    def start(self):
        """The form's text at first: what differs from the proposals in the revision that it starts from.

        A new design takes no words over: they may name another job.
        """
        first = self.design or self.before
        texts = typed_text(self.kind, as_typed(first), self.propose) if first else {}
        if not self.design:
            texts.pop("mark_words", None)
        return texts

    def revision_of(self, plain: Mapping[str, Any]) -> int:
        """The revision's number of plain parameters: that of the design shown, or the next one where they differ."""
        if self.design and plain == self.design.parameters:
            return self.design.revision
        return next_revision(self.family, self.movement, self.kind)

    @property
    def words(self):
        return HolderDesign.Kind(self.kind).label


def bench_for(pairing, kind):
    """The workbench of a new design for a pairing whose case has a family and whose movement is chosen."""
    before = latest_design(pairing.case.family, pairing.movement, kind)
    return _bench(kind, pairing.case.family, pairing.movement, pairing, None, before)


def bench_of(design):
    """The workbench of a kept design."""
    return _bench(design.kind, design.family, design.movement, design.pairing, design, design)


def _bench(kind, family, movement, pairing, design, before):
    report = answer(pairing).report if pairing else None
    around = surroundings(report or check_sheet({}))
    return Workbench(kind, family, movement, pairing, design, before, around, measured_processes())
