"""How a number is told: always with its unit, lengths in mm with two decimals."""

MONTH_DAYS = 30.4375
"""Days in a mean month, a twelfth of 365.25."""
_SHAPE = {
    "mm": ("{:.2f} mm", 1),
    "deg": ("{:.1f}°", 1),
    "uN·m": ("{:.3f} µN·m", 1),
    "mg": ("{:.2f} mg", 1),
    "mAh": ("{:.1f} mAh", 1),
    "uA": ("{:.2f} µA", 1),
    "months": ("{:.0f} months", 1),
    "share": ("{:.1f} %", 100),
    "count": ("{:.0f}", 1),
}


def with_unit(value: float | None, unit: str) -> str:
    """The value with its unit, or "not measured" for None."""
    if value is None:
        return "not measured"
    shape, factor = _SHAPE[unit]
    text = shape.format(value * factor)
    return text[1:] if text.startswith("-") and not any(digit in text for digit in "123456789") else text


def unit_word(unit: str) -> str:
    """The unit as it is written on paper ("µN·m" for "uN·m"); empty where a bare number says it."""
    return {"uN·m": "µN·m", "uA": "µA", "deg": "°", "share": "%", "count": ""}.get(unit, unit)
