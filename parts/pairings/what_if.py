"""What-if changes: numbers typed in place of a part's own, without touching the part."""

import re
from copy import deepcopy

from parts.dimensions.text import DimensionError, read_dimension
from parts.fit.errors import SheetError
from parts.fit.records import describe
from parts.fit.rules import RULES
from parts.sheets import in_sheet

_STEP = re.compile(r"[a-z_]+|[0-9]+")


def with_changes(sheet, changes):
    """The sheet with `changes` (path to typed text) put in and the faults (path to message) of the rest.

    Empty text says "not measured". A bench rule stands under "rules.<name>" and takes no plus-minus.
    """
    changed, faults = deepcopy(sheet), {}
    for path, text in changes.items():
        try:
            if path.startswith("rules."):
                _change_rule(changed, path, text)
            else:
                _change_number(changed, path, text)
        except DimensionError as error:
            faults[path] = str(error)
        except SheetError as error:
            faults[path] = refusal(text, error)
    return changed, faults


def refusal(text, error):
    """What a person reads beside a number that was refused; the path in `error` says nothing to them."""
    return f"{text} does not work: {error.reason}. It must be {error.limit}."


def _change_rule(sheet, path, text):
    name = path.removeprefix("rules.")
    if name not in RULES:
        raise SheetError(path, text, "a bench rule's name", "unknown bench rule")
    reading = read_dimension(text)
    if reading is None:
        return
    if reading.plus_minus or reading.value < 0:
        raise SheetError(path, text, "0 or more, without a plus-minus", "not a bench rule's value")
    sheet.setdefault("rules", {})[name] = reading.value


def _change_number(sheet, path, text):
    spec = _spec(path, text)
    reading = read_dimension(text, unit=spec.unit, bounded=spec.bounded)
    if reading:
        spec.check(path, reading.value, reading.plus_minus)
    *branch, key = (int(step) if step.isdigit() else step for step in _STEP.findall(path))
    inside = sheet
    for step in branch:
        try:
            inside = list(inside.values())[step] if isinstance(inside, dict) and isinstance(step, int) else inside[step]
        except (KeyError, IndexError, TypeError):
            inside = None
        if not isinstance(inside, dict | list):
            raise SheetError(path, text, "left out", "its part is not chosen")
    inside[key] = reading and in_sheet(*reading, at_least=reading.at_least)


def _spec(path, text):
    try:
        spec = describe(path).input
    except (KeyError, ValueError):
        spec = None
    if spec is None:
        raise SheetError(path, text, "a dimension's path", "unknown dimension")
    return spec
