"""Which plans of a large library are looked at one by one: the best movements, with the hands and stems best for each.

Each part is ranked on columns (NumPy) for what is given and the movement. The best and the best in stock take turns, so
that a plan with little to buy is not lost behind many that take a little less work.
"""

from dataclasses import replace
from itertools import product, zip_longest

import numpy as np

from parts.fit import SheetError
from parts.fit.arithmetic.elementwise import is_column
from parts.fit.arithmetic.quantities import Quantity
from parts.fit.sheet import read_part, read_sheet
from parts.goes_in.blocks import blocks_of
from parts.goes_in.question import on_record, rank
from parts.goes_in.standing import NO, joined, standing
from parts.trials.numbers import changed

PLANS = 192
"""Plans looked at, about, and never more than MOST."""
MOST = 400
TRIED = 36
"""Movements at most for which the other parts are ranked."""
PLACES = 16
"""Plans of each movement, more where few movements have any."""


def shortlist(search):
    """The plans to look at, as tuples of primary keys in the order of `search.looked_for`."""
    stocks = {part: search.in_stock(part) for part in search.looked_for}
    movements = _in_turn([(key,) for key in _movements(search)], [stocks["movement"]])
    if len(search.looked_for) == 1:
        return movements[:PLANS]
    records = search.with_rows("movement", [key for (key,) in movements[:TRIED]])
    columns, options = (_hands(search), _ends(search)), []
    for key, record in ((key, records[key]) for (key,) in movements[:TRIED]):
        try:
            sheet, rules = read_sheet(search.question.sheet | {"movement": search.piece("movement", record)})
        except SheetError:
            continue
        hands, ends = (
            _in_turn(_ranked(search, sheet, rules, parts, trials), [stocks[part] for part in parts])
            for parts, trials in columns
        )
        options.append((key, hands, ends))
        if len(_plans(options, PLACES)) >= PLANS:
            break
    places = PLACES
    while len(_plans(options, places)) < PLANS and any(len(hands) * len(ends) > places for _, hands, ends in options):
        places *= 2
    return _plans(options, places)[:MOST]


def _plans(options, places):
    """The first plans of each movement, from (movement, hands, stems with crowns), about so many of each."""
    plans = []
    for key, hands, ends in options:
        few, fewer = _sides(len(hands), len(ends), places)
        plans += [(key, *choice, *end) for choice, end in product(hands[:few], ends[:fewer])]
    return plans


def _sides(hands, ends, places):
    """How many hands and how many stems with crowns share the places: alike, unless there are fewer of one."""
    side = round(places**0.5)
    if hands < side:
        return hands, places // max(hands, 1)
    return (places // max(ends, 1), ends) if ends < side else (side, side)


def _in_turn(choices, stocks):
    """The choices, best first, with the best of those whose parts are all in stock between them."""
    stocked = [choice for choice in choices if all(key in stock for key, stock in zip(choice, stocks, strict=True))]
    turns = (choice for pair in zip_longest(choices, stocked) for choice in pair if choice is not None)
    return list(dict.fromkeys(turns))


def _movements(search):
    """The primary keys of the movements that may fit, best first."""
    ranking = rank(search.question, search.records("movement"))
    return ranking.keys[ranking.standing.rank < NO].tolist()


def _ranked(search, sheet, rules, parts, trials):
    """The trials' choices that may fit the sheet's movement, best first; one of no parts where none is asked."""
    if not parts:
        return [()]
    choices, standings = [], []
    for keys, records in trials:
        choices += keys
        standings.append(
            standing(replace(sheet, **records), rules, search.question.parts | frozenset(parts), len(keys))
        )
    whole = joined(standings)
    order = whole.order_by(np.arange(len(choices)))
    return [choices[i] for i in order[whole.rank[order] < NO]]


def _hands(search):
    """The hand sets in columns: the parts, and (keys, records by part) of those alike."""
    if "hands" not in search.looked_for:
        return (), []
    trials = []
    given = read_part("hands", search.question.sheet["hands"])
    for keys, record in _columns(search, "hands"):
        trials.append(([(key,) for key in keys], {"hands": on_record(record, given, search.staying)}))
    return ("hands",), trials


def _ends(search):
    """The stems with the crowns in columns, each with each: the parts, and (keys, records by part) of those alike."""
    parts = tuple(part for part in ("stem", "crown") if part in search.looked_for)
    if not parts:
        return (), []
    trials = []
    for blocks in product(*(_columns(search, part) for part in parts)):
        rows = np.indices([len(keys) for keys, _ in blocks]).reshape(len(blocks), -1)
        keys = zip(*(own[which].tolist() for (own, _), which in zip(blocks, rows, strict=True)), strict=True)
        records = {
            part: changed(record, lambda _, number, which=which: _at(number, which))
            for part, (_, record), which in zip(parts, blocks, rows, strict=True)
        }
        trials.append((list(keys), records))
    return parts, trials


def _columns(search, part):
    """The records of a part as (primary keys, record of columns) of those alike."""
    return [
        (block.keys, read_part(part, block.sheet)) for block in blocks_of(part, search.records(part)) if len(block.keys)
    ]


def _at(number, which):
    """A number of columns at these rows."""
    if not is_column(number.value):
        return number
    spread = {name: part[which] if is_column(part) else part for name, part in number.spread.items()}
    return Quantity(number.value[which], spread)
