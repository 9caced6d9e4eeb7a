"""The numbers of a sheet's records, to be read and replaced by their paths."""

from collections.abc import Callable, Iterator, Mapping
from dataclasses import fields, is_dataclass
from typing import Any

from parts.fit.arithmetic.quantities import Quantity


def numbers_of(node: Any, path: str = "") -> Iterator[tuple[str, Quantity]]:
    """Every number of a record that is known, with its path ("dial.feet[0].angle")."""
    if isinstance(node, Quantity):
        if node.known:
            yield path, node
    elif is_dataclass(node):
        for item in fields(node):
            yield from numbers_of(getattr(node, item.name), f"{path}.{item.name}" if path else item.name)
    elif isinstance(node, tuple):
        for i, row in enumerate(node):
            yield from numbers_of(row, f"{path}[{i}]")


def with_numbers(node: Any, quantities: Mapping[str, Quantity]) -> Any:
    """The record with these quantities in place of its own, by path."""
    return changed(node, quantities.get)


def changed(node: Any, change: Callable[[str, Quantity], Quantity], path: str = "") -> Any:
    """The record with change(path, quantity) for each of its numbers, known or not."""
    if isinstance(node, Quantity):
        return change(path, node)
    if is_dataclass(node) and not isinstance(node, type):
        parts = (
            changed(getattr(node, item.name), change, f"{path}.{item.name}" if path else item.name)
            for item in fields(node)
        )
        return type(node)(*parts)
    if isinstance(node, tuple):
        return tuple(changed(row, change, f"{path}[{i}]") for i, row in enumerate(node))
    return node
