"""Times of the ranking: the whole library for one case, cases by movements, and plain NumPy beside them.

The yardstick does the must-checks of a case, dial and hands against movements over plain arrays, by hand: interval of
each difference of dimensions, verdict by comparing with two limits, worst of all. It knows no bands, remedies, seating,
date or missing dimensions, and nothing but this measurement uses it.
"""

import random
from dataclasses import replace

import numpy as np


def run(report, best_ms):
    from parts.fit.sheet import read_part, read_sheet
    from parts.goes_in.blocks import blocks_of
    from parts.goes_in.matrix import matrix
    from parts.goes_in.question import Question, rank
    from parts.goes_in.standing import standing
    from parts.models import Case, FootHole, Movement
    from tests.factories import CaseFactory, DialFactory, MovementFactory, PairingFactory

    pairing = PairingFactory(dial=DialFactory(dated=True), movement=MovementFactory(dated=True))
    base = Movement.objects.get(pk=pairing.movement_id)
    _fill(base, Movement, FootHole, 10_000)
    question = Question.of("movement", pairing, {})
    records = Movement.objects.all()
    sheet, rules = read_sheet(question.sheet)
    blocks = [(read_part("movement", block.sheet), len(block.keys)) for block in blocks_of("movement", records)]

    def ours():
        return [standing(replace(sheet, movement=one), rules, question.parts, count) for one, count in blocks]

    yardstick = best_ms(_plain(), calls=5, rounds=5)
    report("all checks, 10,000 movements in memory", best_ms(ours, calls=2, rounds=5), yardstick, "plain NumPy")
    ranked = best_ms(lambda: rank(question, records), calls=1, rounds=5)
    report("10,000 movements ranked for one case", ranked, 300.0, "the goal")

    Movement.objects.filter(pk__gt=base.pk + 499).delete()
    chance = random.Random(2)
    for _ in range(199):
        CaseFactory(family=pairing.case.family, back_depth=4.0 + chance.random())
    DialFactory(family=pairing.case.family, dated=True)
    cases = list(Case.objects.select_related("family"))
    table = best_ms(lambda: matrix(cases=cases, movements=records, hands=pairing.hands), calls=1, rounds=3)
    report(f"{len(cases)} cases by {records.count()} movements", table, 5000.0, "the goal")


def _fill(base, movement, hole, count):
    """That many movements like the base, half of them without a date, 2 % of the dimensions not measured."""
    chance, rows = random.Random(1), []
    for i in range(count - movement.objects.count()):
        row = movement(name=f"m{i}", has_date=chance.random() < 0.5, foot_holes_recorded=True)
        for name, dimension in movement.dimensions.items():
            value = getattr(base, name)
            if value is not None and chance.random() > 0.02 and (row.has_date or not name.startswith("date_")):
                moved = round(value + chance.gauss(0, 0.1), 3) if 0.1 < value < 40 else value
                dimension.put(row, max(moved, 0.01), chance.choice([0.0, 0.01, 0.02]))
        rows.append(row)
    movement.objects.bulk_create(rows, batch_size=500)
    hole.objects.bulk_create(
        (hole(movement=row, angle=angle, radius=11, diameter=0.75) for row in rows for angle in (-35, 145)),
        batch_size=1000,
    )


def _plain(count=10_000):
    """A function that weighs 24 musts over plain arrays of `count` values with their plus-minus."""
    chance = np.random.default_rng(1)
    inputs = chance.normal(1.0, 0.3, (24, 3, count))
    widths = chance.choice([0.0, 0.01, 0.02], (24, 3, count))

    def weigh():
        worst = np.zeros(count, dtype=int)
        for (a, b, c), (ua, ub, uc) in zip(inputs, widths, strict=True):
            value, half = a - b - c, ua + ub + uc
            low, high = value - half, value + half
            rank = np.where(low >= 0.1, 0, np.where(low >= 0.0, 1, np.where(high >= 0.0, 2, 3)))
            np.maximum(worst, rank, out=worst)
        return np.lexsort((inputs[0, 0], worst))

    return weigh
