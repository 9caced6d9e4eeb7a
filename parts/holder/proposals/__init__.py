"""Every dimension of a holder or a spacer proposed from the surroundings, each with a note where it comes from.

What is not measured is proposed as None, with the note naming it. Allowances without a source are common practice.
"""

from collections.abc import Mapping
from typing import Any

from parts.holder.proposals import ring, spacer
from parts.holder.proposals.proposed import Measured, Proposed
from parts.holder.surroundings import Surroundings

__all__ = ["Measured", "Proposed", "propose"]


def propose(
    kind: str,
    around: Surroundings,
    chosen: Mapping[str, Any] | None = None,
    words: str = "",
    measured: Measured | None = None,
) -> dict[str, Proposed]:
    """Name to Proposed for every dimension of that kind that the surroundings say something about.

    `chosen` is what somebody chose of how it is made (fields of Made): heights are proposed in those layers.
    `words` are what a ring is made for, to be engraved where letters print. `measured` is the ± of a process as test
    prints say.
    """
    if kind == "ring":
        return ring.propose(around, chosen or {}, words, measured or {})
    return spacer.propose(around, chosen or {}, measured or {})
