"""How a ring stands in the case: on a ledge, or on the floor of a case loaded from the front that it has to enter."""

from collections.abc import Iterator

from parts.fit.arithmetic.quantities import Quantity
from parts.fit.bands import bands, by_part, by_work, fits, no, work
from parts.fit.levels import widths
from parts.fit.records import MADE_SPACER
from parts.fit.units import with_unit
from parts.fit.verdicts import Finding, judge
from parts.holder import limits
from parts.holder.edges import as_edge, as_made
from parts.holder.findings.heights import judge_made
from parts.holder.findings.springs import split_closes, split_strain
from parts.holder.layers import printed
from parts.holder.parameters import Ring
from parts.holder.surroundings import Surroundings


def findings(ring: Ring, around: Surroundings) -> Iterator[Finding]:
    """Nothing for a ring that lies against a dial on its seat: there its back says where it is."""
    if around.built == "ledge":
        yield _on_the_ledge(ring, around)
    if around.built == "floor":
        yield from _through_the_front(ring, around)
        yield _on_the_floor(ring, around)
        yield _under_the_movement(ring, around)


def _on_the_ledge(ring: Ring, around: Surroundings) -> Finding:
    """The dial rest lies in front of the ledge by the outer step's height; without a step by nothing."""
    step = ring.nose_height if ring.nose else 0.0
    return judge_made(
        "ledge-step",
        "Ring on the case's ledge",
        Quantity(step + ring.start) - around.ledge,
        bands(
            work("The ring carries the dial {size} too far back.", by_work("Make the outer step {rise} high.")),
            -around.rules.stem_tol,
            fits("The ring stands on the ledge; it carries the dial where the stem meets its hole."),
            around.rules.stem_tol,
            work("The ring carries the dial {size} too far forward.", by_work("Make the outer step {rise} high.")),
        ),
        rise=around.ledge,
        made=ring,
        to_fit="Measure the step once it is made: file it down, or lay a shim on the ledge.",
        per_mm=1.0 if ring.nose or ring.start else 0.0,
    )


def _through_the_front(ring: Ring, around: Surroundings) -> Iterator[Finding]:
    room = widths.across(as_edge(ring.outer), around.front).less(as_made(ring.plus_minus))
    springs = split_closes(ring)
    sprung = work(
        "The ring goes in through the front sprung together by {size}; inside it opens again.",
        by_work("Spring it together to pass the front; where its split closes before it passes, widen the split."),
    )
    plain = work(
        "The ring passes the front opening with only {value} to spare.", by_work("Expect to ease the outside.")
    )
    passes = [limits.FRONT_SNUG, fits("The ring passes the front opening with {value} to spare.")]
    too_wide = no(f"The ring is {{size}} too wide for the front opening{', even sprung together' if springs else ''}.")
    row = bands(too_wide, -springs, sprung, 0.0, plain, *passes) if springs else bands(too_wide, 0.0, plain, *passes)
    yield judge("front-pass", "Ring through the front", room.value, row, span=room.span)
    if springs and room.value.known and room.value.value < 0:
        yield strain("split-strain", "Split ring sprung together", split_strain(ring, -room.value.value))


def is_held_small(ring: Ring, around: Surroundings, larger: float) -> bool:
    """Whether a ring larger by so much, mm, would no longer go in through the front, sprung together or not."""
    if around.built != "floor":
        return False
    room = widths.across(as_edge(ring.outer), around.front).value
    return room.known and room.value + split_closes(ring) - larger < limits.FRONT_SNUG


def strain(key: str, title: str, value: float) -> Finding:
    """The finding about something that is bent; the limits are common practice, no source."""
    easy, most = (with_unit(limit, "share") for limit in (limits.STRAIN_EASY, limits.STRAIN_MOST))
    return judge(
        key,
        title,
        Quantity(value),
        bands(
            fits(f"It is strained by {{value}}; up to {easy} it springs back (common practice, no source)."),
            limits.STRAIN_EASY,
            work(f"It is strained by {{value}}: over {easy} it may take a set.", by_work("Make it thinner or longer.")),
            limits.STRAIN_MOST,
            no(f"It is strained by {{value}}: over {most} it takes a set or breaks."),
        ),
        unit="share",
    )


def _on_the_floor(ring: Ring, around: Surroundings) -> Finding:
    return judge_made(
        "floor-stand",
        "Ring on the case floor",
        Quantity(ring.start + printed(ring.height, ring)) - around.back_room,
        bands(
            work("On the floor the ring stands {size} lower than drawn.", by_work("Make it higher by that.")),
            -limits.STANDS_OFF,
            fits("The ring stands on the case floor within {value} of how it is drawn."),
            limits.STANDS_OFF,
            work("On the floor the ring stands {size} higher than drawn.", by_work("Make it lower by {value}.")),
        ),
        made=ring,
        to_fit="Measure the ring once it is made: file it down, or lay a shim under it.",
    )


def _under_the_movement(ring: Ring, around: Surroundings) -> Finding:
    """The ring's own floor against the spacer that the fit check asks for."""
    true = around.rules.spacer_pm
    wanted = Quantity(None, None, (MADE_SPACER,)) if around.spacer is None else Quantity(around.spacer)
    floor = printed(ring.lip_height, ring) if ring.lip_reach else 0.0
    bare = "The movement stands on the case floor, as the fit check asks."
    return judge_made(
        "floor-thickness",
        "Floor under the movement",
        Quantity(floor) - wanted,
        bands(
            work(
                "The movement stands {size} too deep for its stem."
                if floor
                else "The movement stands on the case floor, {size} too deep.",
                by_part("Give the ring a lip {wanted} thick under the movement, or lay a spacer there."),
            ),
            -true,
            fits(f"The ring's floor of {floor:.2f} mm carries the movement at the stem's height." if floor else bare),
            true,
            work("The movement stands {size} too far forward for its stem.", by_work("Lap the floor to {wanted}.")),
        ),
        wanted=wanted,
        made=ring,
        to_fit="Measure the floor once it is made: lap it to {wanted}, or lay a shim on it.",
        per_mm=1.0 if floor else 0.0,
    )
