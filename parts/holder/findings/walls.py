"""Walls and webs against what the process can make; shared by ring and spacer."""

from math import inf

from parts.fit.arithmetic.quantities import SLACK, Quantity
from parts.fit.bands import bands, by_work, fits, no, work
from parts.fit.verdicts import Finding, judge
from parts.holder.parameters import Made
from parts.holder.process import THINNEST, thinnest

BY = {"filament": "this nozzle", "resin": "resin", "turned": "turning"}
FINER = {
    "resin": "print it in resin, which holds a thinner wall",
    "turned": "have it turned or milled in brass, which holds a thinner wall",
}


def wall(parameters: Made, key: str, title: str, thickness: float, most: float = inf) -> Finding:
    """The finding about one wall or web, mm thick; `most` is how thick it may get between case and movement."""
    least, plain = thinnest(parameters)
    cure, limit = f"Make it {plain:.2f} mm, or choose a finer process.", ""
    if most < plain - SLACK:
        cure = _instead(parameters, most)
        limit = f" Case and movement leave no more than {max(0.0, most):.2f} mm there."
    by = BY[parameters.process]
    instead = f" {cure}" if limit else ""
    row = bands(
        no(f"{title}: {{value}} is thinner than {by} can make; {least:.2f} mm needed.{limit}{instead}"),
        least,
        work(f"{title}: {{value}}. Delicate below {plain:.2f} mm.{limit}", by_work(cure)),
        plain,
        fits(f"{title}: {{value}}; {plain:.2f} mm would do."),
    )
    check = judge(key, title, Quantity(thickness), row)
    check.subject = "Walls"
    return check


def _instead(parameters: Made, most: float) -> str:
    """What there is where a wall cannot be thicker: a finer process, no wall at that place, a smaller movement."""
    least, _ = thinnest(parameters)
    ways = [words for name, words in FINER.items() if THINNEST[name][0] < least and THINNEST[name][0] <= most]
    ways.append("leave the wall out there and hold the movement by tongues or clamps where the case is wider")
    ways.append("choose a movement with a smaller fit diameter")
    text = "; or ".join(ways)
    return f"{text[:1].upper()}{text[1:]}."
