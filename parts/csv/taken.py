"""How the numbers of a part were taken, as one cell holds it: JSON by place and dimension, each with its number.

A number that was changed in the file leaves behind how the one before was taken.
"""

import json

from parts.csv.cells import CellError
from parts.dimensions.readings import checked_record


def write(draft):
    """The cell of a draft; empty where nobody wrote down how anything was taken."""
    held = {place: _of(record) for place, record in _places(draft)}
    held = {place: taken for place, taken in held.items() if taken}
    return json.dumps(held, ensure_ascii=False) if held else ""


def settle(draft):
    """Put what the cell says to the numbers of a draft, once all of them are read; raises CellError."""
    try:
        held = json.loads(draft.taken or "{}")
        for place, record in _places(draft):
            _put(record, held.get(place, {}))
    except (ValueError, TypeError, AttributeError, KeyError, RecursionError) as error:
        raise CellError("This was not written by an export. Leave it blank.") from error


def _places(draft):
    """Every record of a draft that has numbers, by where it is."""
    yield "part", draft.record
    yield from draft.hands.items()
    for name, rows in draft.lists.items():
        yield from ((f"{name} {number}", row) for number, row in enumerate(rows, start=1))


def _of(record):
    if not record.dimensions:
        return {}
    return {name: {"of": getattr(record, name)} | how for name, how in record.taken.items()}


def _put(record, held):
    known = {name: how for name, how in held.items() if name in record.dimensions}
    if known:
        record.taken = {name: checked_record(how) for name, how in known.items() if how["of"] == getattr(record, name)}
