"""What can be said of a design before it is made: findings like those of the fit check, each with verdict and remedy.

The interval decides, as everywhere: what was measured enters with its plus-minus. Bands are common practice, no source,
but for the walls (see process).
"""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import cast

from manifold3d import Manifold

from parts.fit.arithmetic.quantities import Quantity
from parts.fit.bands import Verdict, bands, by_work, fits, no, work
from parts.fit.verdicts import Check, Finding, judge
from parts.holder.closed_form import exact_volume
from parts.holder.findings import ring, spacer
from parts.holder.findings.walls import webs
from parts.holder.mesh import Body, Mesh, body_of
from parts.holder.parameters import Piece, Spacer
from parts.holder.surroundings import Surroundings


@dataclass(frozen=True, slots=True)
class Design:
    """A piece worked out: its dimensions, its body, the mesh as files have it, and the findings."""

    parameters: Piece
    solid: Manifold
    mesh: Mesh
    findings: list[Check]

    @property
    def verdict(self) -> Verdict:
        """The worst of the findings' verdicts."""
        return max((item.verdict for item in self.findings), key=lambda verdict: verdict.rank)


def work_out(parameters: Piece, around: Surroundings) -> Design:
    """The Design of a piece within its surroundings."""
    body = body_of(parameters)
    solid = body.solid
    if isinstance(parameters, Spacer):
        special = spacer.findings(parameters, around, solid)
    else:
        special = ring.findings(parameters, around, solid)
    findings = cast("list[Check]", [*special, *webs(parameters, solid), *_built(parameters, body)])
    return Design(parameters, solid, body.mesh, findings)


def _built(parameters: Piece, body: Body) -> Iterator[Finding]:
    mesh, pieces = body.mesh, len(body.solid.decompose())
    row = bands(
        no("The cuts leave nothing."),
        1,
        fits("All in one piece."),
        1,
        no("The cuts split it into {value} pieces."),
    )
    yield _told(judge("one-piece", "One piece", Quantity(float(pieces)), row, unit="count"))
    row = bands(fits("The mesh is closed."), 0, no("The mesh has {value} open edges: a slicer may get it wrong."))
    yield _told(judge("watertight", "Closed surface", Quantity(float(mesh.open_edges)), row, unit="count"))
    if sharp := body.splinters:
        row = bands(
            fits("No splinters."),
            0,
            work(
                f"At {sharp[0]:.2f} mm above the dial side two cuts leave a splinter that runs out to nothing: a "
                "slicer leaves its tip out.",
                by_work("Move one of the cuts by 0.1 mm, turn it by a few degrees, or break the edge by hand."),
            ),
        )
        yield _told(judge("splinters", "Splinters", Quantity(float(len(sharp))), row, unit="count", must=False))
    exact = exact_volume(parameters)
    if exact:
        row = bands(
            fits(f"Volume {mesh.volume:.1f} mm³, expected {exact:.1f} mm³."),
            0.005,
            work(
                f"Volume {mesh.volume:.1f} mm³, expected {exact:.1f} mm³: cuts overlap.",
                by_work("Check the drawings for a nub or cut in the wrong place."),
            ),
        )
        off = Quantity(abs(mesh.volume / exact - 1))
        yield _told(judge("volume", "Volume check", off, row, unit="share", must=False))


def _told(check: Finding) -> Finding:
    check.subject = "Body"
    return check
