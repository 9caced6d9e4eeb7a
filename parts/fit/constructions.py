"""Which keys of a sheet belong to which construction; a key of another one is refused with the key that says so.

Source: fit model section 11. What another construction does not ask for may stand in a sheet; what it cannot have, not.
"""

from collections.abc import Iterator

from parts.fit.errors import SheetError
from parts.fit.records import Sheet

_FLOOR = ("floor_stem", "floor_ring", "floor_crystal_centre", "floor_crystal_edge", "front_opening_diameter")


def refuse_mixed(sheet: Sheet) -> None:
    """Raises SheetError, with both keys, where a sheet's numbers are of another construction than it says."""
    for refusal in (*_case(sheet),):
        raise refusal


def _case(sheet: Sheet) -> Iterator[SheetError]:
    case = sheet.case
    if case.construction and case.loading and case.construction != case.loading:
        reason = "the case is loaded from one side only"
        yield SheetError("case.construction", case.construction, f'"{case.loading}"', reason, "case.loading")
    if not case.is_front_loaded:
        for name in (*_FLOOR, "ring"):
            number = getattr(case, name)
            if number if name == "ring" else number.known:
                reason = "only a case loaded from the front is measured like that"
                value = number if name == "ring" else number.value
                yield SheetError(f"case.{name}", value, "left out", reason, "case.construction")
