"""What a height comes out as in layers; shared by ring and spacer. The bands are common practice, no source."""

from collections.abc import Iterator
from typing import Any, cast

from parts.fit.arithmetic.quantities import Quantity
from parts.fit.bands import Band, Remedy, Verdict, bands, by_part, by_work, fits, work
from parts.fit.verdicts import Check, Finding, judge
from parts.holder import limits
from parts.holder.edges import height_as_made
from parts.holder.layers import even_layers, is_printed, layer_heights, printed, whole_below
from parts.holder.parameters import Made, Ring


def judge_made(
    key: str,
    title: str,
    value: Quantity,
    row: list[Band],
    *,
    made: Made,
    to_fit: str,
    per_mm: float = 1.0,
    unit: str = "mm",
    **words: Any,
) -> Check:
    """The finding about what hangs on a made height; it changes by `per_mm` of its unit for each mm of that.

    Where a ± alone asks for work, or the height's alone leaves it open, it is fitted once it is made, as `to_fit` says.
    """
    off = height_as_made(made.heights_plus_minus) * per_mm
    drawn, finding = (cast("Check", judge(key, title, v, row, unit=unit, **words)) for v in (value, value + off))
    here = drawn.band
    if here is None or drawn.verdict not in (Verdict.FITS, Verdict.WORK):
        return finding
    because = f"{here.says} A height comes out to ±{made.heights_plus_minus:.2f} mm: fit it by hand."
    by_hand = finding.verdict is not (here if drawn.verdict is Verdict.WORK else drawn).verdict
    return finding.work_where(by_hand, because, by_work(to_fit))


def in_words(made: Made) -> str:
    """The layers that a piece is printed in."""
    first, layer = layer_heights(made)
    return f"layers of {layer:.2f} mm" + ("" if first == layer else f" on a first one of {first:.2f} mm")


def ring_heights(ring: Ring) -> Iterator[Finding]:
    """The ring's height as it prints, and whether its nubs have layers enough."""
    if not is_printed(ring):
        return
    height = printed(ring.height, ring)
    below = whole_below(ring.height, ring)
    yield judge(
        "printed-height",
        "Height as it prints",
        Quantity(height) - Quantity(ring.height),
        bands(
            work("{prints}, {size} lower than drawn.", by_work("Set the height to {whole}.")),
            -limits.HEIGHT_OFF,
            fits("{prints}."),
            limits.HEIGHT_OFF,
            work("{prints}, {value} higher than drawn.", by_work("Set the height to {whole}, or file the back down.")),
        ),
        prints=f"In {in_words(ring)} it prints as {height:.2f} mm",
        whole=Quantity(below if height > ring.height else height),
    )
    if ring.nub_count:
        _, layer = layer_heights(ring)
        count = round((printed(ring.top, ring) - height) / layer)
        yield judge(
            "nub-layers",
            "Layers in a nub",
            Quantity(float(count)),
            bands(
                work("The nubs vanish: they are lower than half a layer.", _higher(layer)),
                1,
                work("The nubs are one layer: it lifts off or is squashed.", _higher(layer)),
                2,
                fits("The nubs are {value} layers."),
            ),
            unit="count",
        )


def _higher(layer: float) -> Remedy:
    return by_work(f"Make the nubs {2 * layer:.2f} mm high, two layers, and file them to fit.")


def spacer_ways(thickness: float, made: Made) -> tuple[Remedy, ...]:
    """Ways to a spacer of just that thickness, where the layers that are set do not make it."""
    even = even_layers(thickness, made)
    if even is None:
        return (by_part("Cut it from shim, or have it turned: no printer makes it so thin."),)
    count, layer = even
    each = f"{count} layers of {layer:.3f} mm, the first one too" if count > 1 else f"one layer of {layer:.3f} mm"
    printing = by_work(f"Print it in {each}, or print it thicker and lap it to {thickness:.2f} mm.")
    elsewhere = by_part("Have it turned." if made.process == "resin" else "Have it turned, or printed in resin.")
    below = whole_below(thickness, made)
    if below >= thickness:
        return printing, elsewhere
    return printing, by_part(f"Print it {below:.2f} mm, and lay shim of {thickness - below:.2f} mm with it."), elsewhere
