"""Whether a holder ring can be put together with the movement in the order that is meant, and made by its process."""

from collections.abc import Iterator

from parts.fit.arithmetic import outlines
from parts.fit.arithmetic.quantities import Quantity
from parts.fit.bands import bands, fits, no
from parts.fit.verdicts import Finding, judge
from parts.holder.edges import of_edge, radius_at
from parts.holder.parameters import Ring
from parts.holder.surroundings import Surroundings


def findings(ring: Ring, around: Surroundings) -> Iterator[Finding]:
    """What hinders the assembly, and what hinders the making."""
    yield _count("order", "Order of assembly", list(_hindrances(ring, around)), _goes(ring, around))
    if ring.process == "turned":
        yield _count(
            "turning", "Made on a lathe", list(_not_turned(ring)), "The ring has no overhangs and can be turned."
        )


def is_wide(ring: Ring, around: Surroundings) -> bool:
    """Whether some of the movement's rim stands wider than the ring's inside."""
    rim = of_edge(around.overall)
    return rim is not None and float(outlines.clear(rim, ring.inner)) < -1e-9


def _goes(ring: Ring, around: Surroundings) -> str:
    if around.built == "floor":
        first = "The movement enters the ring from its dial side, and both enter the case from the front"
    elif ring.ring_goes == "last":
        first = "The movement goes in first, the ring over it"
    else:
        first = "The ring goes in first"
    stem = "is in place before" if ring.stem_goes == "first" else "goes in last"
    if around.stub is not None:
        stem = "is joined last: its inner part stays in the movement"
    return f"{first}; the stem {stem}. That works."


def _hindrances(ring: Ring, around: Surroundings) -> Iterator[str]:
    """Over a movement from behind, and round one that goes in from the front, a ring is entered from its dial side."""
    from_dial = ring.ring_goes == "last" or around.built == "floor"
    inward = [key for key in ring.keys if key.depth < 0]
    if not from_dial and is_wide(ring, around):
        yield "the movement's rim will not pass the ring from behind"
    if not from_dial and ring.lip_reach:
        yield "the movement will not pass the lip from behind"
    if not from_dial and any(key.low > 0 for key in inward):
        yield "the movement hits an inward key before it seats"
    if from_dial and any(key.high < ring.height for key in inward):
        yield "an inward key that ends below the back hits the movement's edge on the way in"
    wanted = "dial" if from_dial else "back"
    if ring.stem_goes == "first" and ring.channel_open not in (wanted, "through"):
        yield f"with the stem in place the channel must be open to the {wanted} side"
    elif _stub_stands_out(ring, around) and ring.channel_open not in (wanted, "through"):
        yield f"the stem's inner part stands out of the movement: the channel must be open to the {wanted} side"


def _stub_stands_out(ring: Ring, around: Surroundings) -> bool:
    """Whether the inner part of a split stem reaches into the ring."""
    stub = around.stub
    return stub is not None and stub.known and stub.high > radius_at(ring.inner, ring.channel_angle)


def _not_turned(ring: Ring) -> Iterator[str]:
    if not ring.is_round:
        yield "only round rings are turned; print it in resin, or have it milled"
    if ring.nub_count:
        yield "nubs are not turned; set their number to 0"
    if ring.keys:
        yield "keys stand proud of a turned wall"
    if ring.lip and ring.notch_width:
        yield "the grip lip is an undercut"
    if ring.channel_open == "closed":
        yield "a closed channel cannot be milled from a side; drill it or open it"
    if any(cut.low > 0 and cut.high < ring.height for cut in ring.cutouts):
        yield "a cut-out is closed on both sides"


def _count(key: str, title: str, reasons: list[str], clear: str) -> Finding:
    row = bands(fits(clear), 0, no(f"Cannot be assembled: {'; '.join(reasons)}."))
    return judge(key, title, Quantity(float(len(reasons))), row, unit="count")
