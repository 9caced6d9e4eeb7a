"""Numbers for a quick check of an everyday conversion: own dial and case, a movement of the library."""

CASE = {
    "case.bore_diameter": "29.60",
    "case.dial_opening_diameter": "27.40",
    "case.stem_axis_depth": "2.15 ±0.02",
    "case.back_depth": "5.40",
    "case.stem_angle": "90",
    "case.crystal_gap_centre": "2.95 ±0.03",
}
DIAL = {"dial.thickness": "0.40 ±0.01", "dial.centre_hole_diameter": "1.60"}
PICKED = {"dial.own_case": "yes", "dial.fixing": "pads", "dial.window": "none"}
SECONDS = {
    "hands.seconds.hole_diameter": "0.20",
    "hands.seconds.length": "11.5",
    "hands.seconds.tail": "3.5",
    "hands.seconds.thickness": "0.12 ±0.01",
    "hands.seconds.hub_height": "0.70 ±0.02",
}


def sent(numbers, picks=None, **rest):
    """The form of a quick check as a browser sends it."""
    return (
        {f"n:{path}": text for path, text in numbers.items()}
        | {f"p:{path}": word for path, word in (picks or {}).items()}
        | rest
    )


RECTANGLE = {
    "case.bore_outline.width": "22.00 ±0.03",
    "case.bore_outline.height": "30.00 ±0.03",
    "case.bore_outline.corner": "2.00 ±0.2",
    "case.opening_outline.width": "20.00 ±0.03",
    "case.opening_outline.height": "28.00 ±0.03",
    "case.opening_outline.corner": "1.50 ±0.2",
    "case.stem_axis_depth": "2.45 ±0.02",
    "case.back_depth": "5.40",
    "case.stem_angle": "90",
    "case.crystal_gap_centre": "2.95 ±0.03",
}
"""A rectangular case with its own dial; DIAL holds for it as well."""
SMALL_SECONDS = {
    "dial.subdials[0].angle": "180",
    "dial.subdials[0].radius": "5.00",
    "dial.subdials[0].hole_diameter": "0.65",
    "dial.subdials[0].depth": "0.10",
    "movement.subsidiary[0].angle": "90",
    "movement.subsidiary[0].radius": "5.00",
    "movement.subsidiary[0].diameter": "0.25",
    "movement.subsidiary[0].height": "1.00",
    "hands.subsidiary[0].hole_diameter": "0.24",
    "hands.subsidiary[0].length": "2.50",
    "hands.subsidiary[0].tail": "0.80",
    "hands.subsidiary[0].thickness": "0.10",
    "hands.subsidiary[0].hub_height": "0.40",
}
