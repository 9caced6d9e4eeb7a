"""Findings about a spacer; the bands are common practice, no source."""

from collections.abc import Iterator

from manifold3d import Manifold

from parts.fit.arithmetic import outlines
from parts.fit.arithmetic.quantities import Quantity
from parts.fit.bands import bands, by_work, fits, no, work
from parts.fit.levels import widths
from parts.fit.records import MADE_SPACER
from parts.fit.verdicts import Finding, judge
from parts.holder import limits
from parts.holder.edges import as_edge, as_made
from parts.holder.findings.heights import in_words, judge_made, spacer_ways
from parts.holder.findings.walls import wall
from parts.holder.layers import is_printed, printed
from parts.holder.mesh import solid_in
from parts.holder.parameters import Spacer
from parts.holder.shapes import Pin
from parts.holder.surroundings import Surroundings

_TOUCH = 0.001
"""Less than this is no collision, mm³."""


def findings(spacer: Spacer, around: Surroundings, solid: Manifold) -> Iterator[Finding]:
    """All findings about this spacer, in order."""
    yield wall(spacer, "spacer-width", "Width of the washer", spacer.wall)
    yield _grouped("Height", _thickness(spacer, around))
    for check in _front(spacer, around) if around.placement == "front" else _rear(spacer, around, solid):
        yield _grouped("Round the spacer", check)


def _grouped(subject: str, check: Finding) -> Finding:
    check.subject = subject
    return check


def _thickness(spacer: Spacer, around: Surroundings) -> Finding:
    true = around.rules.spacer_pm
    wanted = Quantity(None, None, (MADE_SPACER,)) if around.spacer is None else Quantity(around.spacer)
    height = printed(spacer.thickness, spacer)
    layered = is_printed(spacer) and abs(height - spacer.thickness) > 1e-6
    prints = f"In {in_words(spacer)} the spacer prints as {height:.2f} mm" if layered else "The spacer is drawn"
    ways = spacer_ways(around.spacer, spacer) if layered and around.spacer else ()
    return judge_made(
        "spacer-thickness",
        "Thickness, as the fit check asks",
        Quantity(height) - wanted,
        bands(
            work(
                "{prints}, {size} thinner than the fit check asks for.",
                *(ways or (by_work("Make it {wanted} thick."),)),
            ),
            -true,
            fits(
                "{prints} as thick as the fit check asks for, {wanted}."
                if not layered
                else "{prints}; asked for is {wanted}."
            ),
            true,
            work("{prints}, {size} thicker than the fit check asks for.", *(ways or (by_work("Lap it to {wanted}."),))),
        ),
        prints=prints,
        wanted=wanted,
        made=spacer,
        to_fit="Measure it once it is made: lap it to {wanted}, or make it again.",
    )


def _front(spacer: Spacer, around: Surroundings) -> Iterator[Finding]:
    outer, inner, off = as_edge(spacer.outer), as_edge(spacer.inner), as_made(spacer.plus_minus)
    room = widths.across(outer, around.seat).less(off)
    yield judge(
        "seat-room",
        "Spacer in the dial seat",
        room.value,
        bands(
            no("The spacer is {size} too wide for the dial seat."),
            0.0,
            fits("The spacer lies in the dial seat with {value} of play."),
            limits.SEAT_LOOSE,
            work("The spacer has {value} of play in the seat.", by_work("Make the outside larger.")),
        ),
        span=room.span,
    )
    room = widths.across(around.opening, inner).less(off)
    yield judge(
        "opening-room",
        "Spacer out of sight",
        room.value,
        bands(
            work("{size} of the spacer shows inside the opening.", by_work("Make the inside larger.")),
            0.0,
            fits("The rim hides the spacer by {value}."),
        ),
        span=room.span,
    )
    room = widths.clear(inner, around.dial).less(off * 0.5)
    yield judge(
        "dial-support",
        "Spacer under the dial's edge",
        room.value,
        bands(
            no("The spacer's hole is {size} too wide to carry the dial."),
            limits.SUPPORT_LEAST,
            work("The spacer carries only {value} of the dial's edge.", by_work("Make the inside smaller.")),
            limits.SUPPORT_PLAIN,
            fits("The spacer carries {value} of the dial's edge."),
        ),
        span=room.span,
    )


def _rear(spacer: Spacer, around: Surroundings, solid: Manifold) -> Iterator[Finding]:
    room = widths.across(as_edge(spacer.outer), around.bore).less(as_made(spacer.plus_minus))
    yield judge(
        "bore-room",
        "Spacer in the bore",
        room.value,
        bands(
            no("The spacer is {size} too wide for the bore."), 0.0, fits("The spacer has {value} of play in the bore.")
        ),
        span=room.span,
    )
    if around.placement != "rear":
        return
    if around.disc_outer is not None:
        yield judge(
            "disc-room",
            "Date disc clear of the spacer",
            Quantity(float(outlines.inner(spacer.inner))) - around.disc_outer,
            bands(
                no("The spacer reaches {size} over the date disc: the disc would not turn."),
                0.0,
                work("The date disc clears by only {value}.", by_work("Make the inside larger.")),
                around.rules.pad_disc_gap,
                fits("The date disc clears the spacer by {value}."),
            ),
        )
    if around.feet:
        height = spacer.thickness
        stuck = sum(
            (solid ^ solid_in(Pin(angle, radius, diameter, 0.0, height))).volume() > _TOUCH * height
            for angle, radius, diameter in around.feet
        )
        yield judge(
            "feet-room",
            "Dial feet through the spacer",
            Quantity(float(stuck)),
            bands(
                fits("The dial feet clear the spacer."),
                0,
                work("{value} dial feet hit the spacer.", by_work("Add a notch for each, or cut the foot off.")),
            ),
            unit="count",
        )
