"""Walls and webs against what the process can make; shared by ring and spacer."""

from parts.fit.arithmetic.quantities import Quantity
from parts.fit.bands import bands, by_work, fits, no, work
from parts.fit.verdicts import Finding, judge
from parts.holder.parameters import Made
from parts.holder.process import thinnest

BY = {"filament": "this nozzle", "resin": "resin", "turned": "turning"}


def wall(parameters: Made, key: str, title: str, thickness: float, *remedies: str) -> Finding:
    """The finding about one wall or web, mm thick."""
    least, plain = thinnest(parameters)
    cures = remedies or (f"Make it {plain:.2f} mm, or choose a finer process.",)
    row = bands(
        no(f"{title}: {{value}} is thinner than {BY[parameters.process]} can make; {least:.2f} mm needed."),
        least,
        work(f"{title}: {{value}}. Delicate below {plain:.2f} mm.", *(by_work(text) for text in cures)),
        plain,
        fits(f"{title}: {{value}}; {plain:.2f} mm would do."),
    )
    check = judge(key, title, Quantity(thickness), row)
    check.subject = "Walls"
    return check
