"""Whole pieces of the fit sheet, of many records at once: what is alike but for its numbers, as columns of those."""

import json

import numpy as np


def kinds_of(pieces):
    """For each record a number that is the same where its pieces are alike but for their numbers.

    `pieces` holds for each record what it has as pieces, by name. None has any where all are 0.
    """
    shapes = {}
    keys = (json.dumps(_shape(mine)) if mine else "" for mine in pieces)
    return np.array([shapes.setdefault(key, len(shapes)) for key in keys], dtype=float)


def in_columns(pieces):
    """Pieces of one kind as one, whose numbers are columns of values and plus-minus."""
    first = pieces[0]
    if isinstance(first, dict):
        return {
            name: piece if name == "points" else in_columns([mine[name] for mine in pieces])
            for name, piece in first.items()
        }
    if isinstance(first, list) and not _is_number(first):
        return [in_columns(list(each)) for each in zip(*pieces, strict=True)]
    if not _is_number(first):
        return first
    pairs = np.array([number if isinstance(number, list) else (number, 0.0) for number in pieces], dtype=float)
    return [np.ascontiguousarray(pairs[:, 0]), np.ascontiguousarray(pairs[:, 1])]


def _shape(node):
    if isinstance(node, dict):
        return {name: each if name == "points" else _shape(each) for name, each in sorted(node.items())}
    if _is_number(node):
        return 0
    return [_shape(each) for each in node] if isinstance(node, list) else node


def _is_number(node):
    """A number, or a value with its plus-minus; a row of a rim has two numbers as well, and stays a row."""
    if isinstance(node, list):
        return len(node) == 2 and all(isinstance(each, int | float) for each in node)
    return isinstance(node, int | float) and not isinstance(node, bool)
