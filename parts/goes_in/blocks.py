"""The library's records as columns: blocks of rows alike in kind, each one record whose dimensions are columns."""

import json
from dataclasses import dataclass

import numpy as np
from django.db.models import TextField
from django.db.models.functions import Cast

from parts.goes_in.pieces import in_columns, kinds_of
from parts.models import Crown, FootHole, Hand, HandSet, Movement, Stem
from parts.sheets import crown_sheet, hands_sheet, movement_sheet, stem_sheet


@dataclass(frozen=True, slots=True)
class Block:
    """Rows that differ in numbers only: their primary keys and their part of the pairing sheet, in columns."""

    keys: np.ndarray
    sheet: dict


def blocks_of(part, records):
    """The records of a queryset ("movement", "hands", "stem", "crown") as Blocks, in two queries at most."""
    return _BLOCKS[part](records)


def _movements(records):
    keys, flags, numbers, pieces = _read_whole(records, ("has_date", "has_day", "foot_holes_recorded"), Movement)
    shapes = kinds_of(pieces)
    owners, _, holes = _read(FootHole.objects.filter(movement__in=records), (), FootHole, by="movement_id")
    starts = np.searchsorted(owners, keys)
    counts = np.searchsorted(owners, keys, side="right") - starts
    for key, rows in _alike(np.column_stack([flags, counts, shapes])):
        date, (day, recorded) = _LOOKED[int(key[0])], map(bool, key[1:3])
        movement = _filled(Movement(has_date=date, has_day=day, foot_holes_recorded=recorded), numbers[rows])
        _put(movement, [pieces[row] for row in rows])
        each = [_filled(FootHole(), holes[starts[rows] + i]) for i in range(int(key[3]))]
        yield Block(keys[rows], movement_sheet(movement, foot_holes=each))


def _hand_sets(records):
    keys, _, _, pieces = _read_whole(records, (), HandSet)
    shapes = kinds_of(pieces)
    by_role, present = {}, []
    for role in Hand.Role.values:
        rows = Hand.objects.filter(hand_set__in=records, role=role)
        owners, _, numbers = _read(rows, (), Hand, by="hand_set_id")
        spread = np.full((len(keys), numbers.shape[1]), np.nan)
        spread[np.searchsorted(keys, owners)] = numbers
        by_role[role] = spread
        present.append(np.isin(keys, owners))
    for key, rows in _alike(np.column_stack([*present, shapes])):
        hands = [
            _filled(Hand(role=role), by_role[role][rows])
            for role, there in zip(Hand.Role.values, key[:-1], strict=True)
            if there
        ]
        small = in_columns([pieces[row] for row in rows]).get("subsidiary")
        yield Block(keys[rows], hands_sheet(hands, small))


def _stems(records):
    keys, _, numbers = _read(records, (), Stem)
    yield Block(keys, stem_sheet(_filled(Stem(), numbers)))


def _crowns(records):
    for style in ("", *Crown.Style.values):
        keys, _, numbers = _read(records.filter(style=style), (), Crown)
        yield Block(keys, crown_sheet(_filled(Crown(style=style), numbers)))


_BLOCKS = {"movement": _movements, "hands": _hand_sets, "stem": _stems, "crown": _crowns}


_NOBODY_LOOKED = -1
_LOOKED = {_NOBODY_LOOKED: None, 0: False, 1: True}
"""What a flag among the numbers stands for."""


def _columns(model):
    return [column for dimension in model.dimensions.values() for column in dimension.columns[:2]]


def _read(records, flags, model, by="pk"):
    """Primary keys (or owners), flags and dimensions with their plus-minus as arrays, in the order of `by`."""
    names = (by, *flags, *_columns(model))
    rows = np.array(list(records.order_by(by, "pk").values_list(*names)), dtype=float).reshape(-1, len(names))
    return _split(rows, len(flags))


def _loaded(pieces, texts):
    loaded = {name: json.loads(text) for name, text in zip(pieces, texts, strict=True) if text}
    return {name: piece for name, piece in loaded.items() if piece}


def _split(rows, flags):
    kinds = np.nan_to_num(rows[:, 1 : 1 + flags], nan=_NOBODY_LOOKED)
    return rows[:, 0].astype(np.int64), kinds, rows[:, 1 + flags :]


def _read_whole(records, flags, model):
    """As `_read` by primary key, and what each record has as whole pieces of the sheet, by the name of its column."""
    names = ("pk", *flags, *_columns(model))
    # As text: a column of nothing but NULL is not looked through for JSON.
    texts = [Cast(name, TextField()) for name in model.pieces]
    rows = list(records.order_by("pk").values_list(*names, *texts))
    count, pieces = len(names), tuple(model.pieces)
    numbers = np.array([row[:count] for row in rows], dtype=float).reshape(-1, count)
    bare = (None,) * len(pieces)
    whole = [{} if row[count:] == bare else _loaded(pieces, row[count:]) for row in rows]
    return *_split(numbers, len(flags)), whole


def _put(record, pieces):
    for name, piece in in_columns(pieces).items():
        setattr(record, name, piece)


def _alike(kinds):
    """The different rows of `kinds`, each with the indices of the rows that are like it."""
    if not len(kinds):
        return
    kinds_there, which = np.unique(kinds, axis=0, return_inverse=True)
    for i, kind in enumerate(kinds_there):
        yield kind, np.flatnonzero(which.ravel() == i)


def _filled(record, numbers):
    """The record with a column for each dimension; NaN is what is not measured, None what no row has measured."""
    unknown = np.isnan(numbers).all(axis=0)
    for i, column in enumerate(_columns(type(record))):
        setattr(record, column, None if unknown[i] else np.ascontiguousarray(numbers[:, i]))
    return record
