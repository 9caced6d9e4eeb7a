"""Walls and webs against what the process can make; shared by ring and spacer."""

from parts.fit.arithmetic.quantities import Quantity
from parts.fit.bands import bands, by_work, fits, no, work
from parts.fit.verdicts import judge
from parts.holder.process import thinnest

BY = {"filament": "this nozzle", "resin": "resin", "turned": "turning"}


def wall(parameters, key, title, thickness, *remedies):
    """The finding about one wall or web, mm thick."""
    least, plain = thinnest(parameters)
    cures = remedies or (f"Make it {plain:.2f} mm, or choose a process that takes less.",)
    row = bands(
        no(f"{title}: {{value}} is less than {BY[parameters.process]} can make; it takes {least:.2f} mm."),
        least,
        work(f"{title}: {{value}}; from {plain:.2f} mm it needs no care.", *(by_work(text) for text in cures)),
        plain,
        fits(f"{title}: {{value}}, and {plain:.2f} mm is enough."),
    )
    check = judge(key, title, Quantity(thickness), row)
    check.subject = "Walls"
    return check
