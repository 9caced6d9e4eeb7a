"""Who holds the movement along the axis, and how well; the bands are common practice, no source."""

from collections.abc import Iterator

from parts.fit.arithmetic.quantities import Quantity
from parts.fit.bands import Remedy, Verdict, bands, by_part, by_work, fits, no, work
from parts.fit.levels import widths
from parts.fit.verdicts import Finding, judge
from parts.holder import limits
from parts.holder.edges import as_edge, as_made, grown
from parts.holder.findings.heights import judge_made
from parts.holder.findings.ring_assembly import is_wide
from parts.holder.findings.springs import tongue_of
from parts.holder.findings.standing import strain
from parts.holder.layers import printed
from parts.holder.parameters import Ring
from parts.holder.surroundings import Surroundings

_WAYS = by_work("Give the ring a lip or tabs behind the movement, or count the case's clamps, under Hold.")


def findings(ring: Ring, around: Surroundings) -> Iterator[Finding]:
    """The hold that was chosen, and what has to be measured for it."""
    yield _held(ring, around)
    if is_wide(ring, around) and (ring.step or ring.start > 0):
        yield _rim(ring, hangs=around.built != "floor")
    if ring.lip_reach and around.built != "floor":
        yield from _lip(ring, around)
    if ring.held_by == "tongues" and ring.tongue_length and ring.nub_count:
        yield from _tongues(ring, around)


def _held(ring: Ring, around: Surroundings) -> Finding:
    """One finding whichever way was chosen: 1 where it holds, 0 where nothing does."""
    holds, says, lacks, remedy = _chosen(ring, around)
    row = bands(work(lacks, remedy), 1, fits(says))
    check = judge("axial-hold", "Movement held along the axis", Quantity(float(holds)), row, unit="count")
    if ring.held_by == "dial ring" and around.ring_fits in (Verdict.UNCLEAR, Verdict.NO):
        return check.unclear_where(holds, "The ring on the dial holds it once the fit check's ring gap says so.")
    return check


def _chosen(ring: Ring, around: Surroundings) -> tuple[bool, str, str, Remedy]:
    """(whether it holds, what is said then, what is said otherwise, the remedy)."""
    pressed = bool(ring.nub_count and ring.nub_height)
    caught = bool(ring.lip_reach) or (is_wide(ring, around) and bool(ring.step or ring.start > 0))
    match ring.held_by:
        case "lip":
            holds = bool(ring.lip_reach)
            what = f"{ring.tab_count:.0f} tabs reach" if ring.tab_count else "The ring's lip reaches"
            lacks = "No lip and no tab reaches behind the movement."
            return holds, f"{what} behind the movement.", lacks, by_work("Enter how far the lip reaches.")
        case "clamps":
            count = int(ring.clamp_count)
            holds = count >= limits.CLAMPS
            lacks = "One clamp lets the movement tip." if count else "No clamps are counted yet."
            count_them = by_work("Count the case's clamps and their screws, and enter the number.")
            return (
                holds,
                f"{count} clamps hold the movement.",
                lacks,
                by_part("Get a second clamp.") if count else count_them,
            )
        case "tongues":
            holds = pressed and bool(ring.tongue_length) and caught
            says = "The case back presses the tongues, and the ring holds the movement."
        case "dial ring":
            holds = around.built == "floor" and bool(around.ring_on_dial)
            ring_of_case = "tension ring" if around.ring_on_dial == "tension" else "rehaut"
            says = f"The case's {ring_of_case} keeps the dial and the movement on the floor."
            return holds, says, "No ring of this case presses the dial.", _WAYS
        case _:
            holds = pressed and caught
            says = "The case back presses the ring, and the ring holds the movement."
    if caught:
        return holds, says, "Nothing presses the ring from behind.", by_work("Give it nubs, or choose another hold.")
    lacks = "Nothing holds the movement along the axis but friction and its dial's feet."
    return holds, says, lacks, _WAYS


def _rim(ring: Ring, *, hangs: bool) -> Finding:
    """A step or a start that was guessed is never called good: the rim has to be measured.

    Where the ring `hangs` from the rim its play counts; a movement on a floor only has to reach that.
    """
    step = ring.flange_depth if ring.step else 0.0
    depth, measured = ring.start + step, bool(ring.rim_height)
    deeper = by_work(f"Make it {ring.rim_height - (ring.start if ring.step else 0.0):.2f} mm.")
    row = bands(
        work("The ring sits {size} off its place: the rim is higher.", deeper),
        0.0,
        fits("The rim has {value} of play along the axis."),
        limits.HELD_LOOSE,
        work("The rim has {value} of play along the axis.", deeper) if hangs else fits("The rim has {value} of room."),
    )
    title = "Movement's rim in its step" if ring.step else "Ring behind the movement's rim"
    to_fit = "Measure it once it is made: scrape it deeper, or lay a shim on the rim."
    value = Quantity(depth - ring.rim_height if measured else 0.0)
    check = judge_made("rim-depth", title, value, row, made=ring, to_fit=to_fit)
    guess = f"The height of the movement's rim, {depth:.2f} mm, is a guess. Measure it and enter it under Steps."
    return check.unclear_where(not measured, guess)


def _lip(ring: Ring, around: Surroundings) -> Iterator[Finding]:
    hole = grown(ring.inner, -ring.lip_reach)
    room = widths.clear(as_edge(hole), around.gripped).less(as_made(ring.plus_minus) * 0.5)
    yield judge(
        "lip-hold",
        "Lip behind the movement's edge",
        room.value,
        bands(
            work("The lip reaches only {value} behind the movement.", by_work("Make it reach farther.")),
            limits.HOLDS_LEAST,
            fits("The lip reaches {value} behind the movement's edge."),
        ),
        span=room.span,
    )
    face = ring.start + printed(ring.height, ring) - printed(ring.lip_height, ring)
    yield judge_made(
        "lip-gap",
        "Movement before the lip",
        Quantity(face) - around.back_height,
        bands(
            no("The lip would press the movement forward by {size}."),
            -limits.HEIGHT_OFF,
            fits("The movement has {value} of play before the lip."),
            limits.HELD_LOOSE,
            work(
                "The movement has {value} of play before the lip.",
                by_work("Make the lip thicker, or lay a shim there."),
            ),
        ),
        made=ring,
        to_fit="Measure the ring once it is made: scrape the lip's face back, or lay a shim there.",
    )


def _tongues(ring: Ring, around: Surroundings) -> Iterator[Finding]:
    tongue, count = tongue_of(ring), int(ring.nub_count)
    height = printed(ring.height, ring)
    travel = Quantity(printed(ring.top, ring) - height) - (around.back_room - (ring.start + height))
    stress = tongue.modulus * tongue.strain(max(0.0, travel.value)) if travel.known else None
    shown = f", {stress:.0f} N/mm² at the root of each" if stress is not None else ""
    yield judge_made(
        "tongue-force",
        "Spring tongues",
        travel * (count * tongue.rate),
        bands(
            work(
                f"All {count} tongues press with only {{value}}.",
                by_work("Make the nubs higher, or the tongues thicker."),
            ),
            limits.FORCE_LEAST,
            fits(f"All {count} tongues press with {{value}}{shown}."),
            limits.FORCE_MOST,
            work(f"All {count} tongues press with {{value}}.", by_work("Make the tongues thinner, or the nubs lower.")),
        ),
        made=ring,
        to_fit="File the nubs until the case back closes on them and they still hold.",
        per_mm=count * tongue.rate,
        unit="N",
    )
    if travel.known and travel.value > 0:
        yield strain("tongue-strain", "Tongues as they bend", tongue.strain(travel.value))
        if travel.value > ring.tongue_gap:
            yield judge(
                "tongue-gap",
                "Room below the tongues",
                Quantity(ring.tongue_gap - travel.value),
                bands(
                    no("The tongues meet the ring {size} before they have given way."),
                    0.0,
                    fits("They give way freely."),
                ),
            )
