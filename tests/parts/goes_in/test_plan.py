"""The best plans, held against every combination enumerated here, each by the fit check and its chance alone."""

from itertools import product

import pytest

from parts.fit.bands import Verdict
from parts.goes_in import plan as planning
from parts.goes_in.plan import plans
from parts.models import Crown, Hand, HandSet, Movement, Pairing, Stem
from parts.models.pairing import OTHER_HANDS
from parts.pairings.answer import answer
from parts.rules.remedy_minutes import remedy_minutes
from parts.trials.chance import with_chance
from tests.factories import (
    CaseFactory,
    CrownFactory,
    DialFactory,
    HandSetFactory,
    MovementFactory,
    StemFactory,
)

pytestmark = pytest.mark.django_db


@pytest.fixture(autouse=True)
def few_draws(monkeypatch):
    monkeypatch.setattr(planning, "DRAWS", 300)


@pytest.fixture
def library():
    """A case and a dial, both uncertain, and a few parts of each kind that take more or less work, some in stock."""
    case = CaseFactory(crystal_gap_centre=2.30, crystal_gap_centre_pm=0.15)
    movements = (
        {"in_stock": 2, "post_hour_diameter": 1.56, "post_seconds_height": 2.35, "post_minute_height": 1.8},
        {"in_stock": 0, "post_seconds_height": 2.35, "post_minute_height": 1.8},
        {"in_stock": 1, "post_seconds_height": 2.6},
        {"in_stock": 1, "unbalance_hour": None},
        {"in_stock": 1, "overall_diameter": 40.0},
        {"in_stock": 1, "stem_axis_depth": None},
    )
    for numbers in movements:
        MovementFactory(**numbers)
    hands = ((1.49, 11.6, None), (1.40, 11.6, 1), (1.55, 11.0, None), (1.49, 12.3, 1))
    for i, (hole, length, in_stock) in enumerate(hands):
        own = HandSetFactory(in_stock=in_stock, seconds=i != 2).hands
        own.filter(role="hour").update(hole_diameter=hole)
        own.filter(role="minute").update(length=length)
    for length, thread, in_stock in ((12.0, 0.9, 0), (4.6, 0.9, 1), (12.0, 1.2, 3)):
        StemFactory(length=length, thread=thread, in_stock=in_stock)
    CrownFactory(thread=0.9, in_stock=None), CrownFactory(thread=1.2, in_stock=1)
    return Pairing(case=case, dial=DialFactory(centre_hole_diameter=1.9, thickness_pm=0.05))


def enumerated(given):
    """(aims, records) of each combination with a chance, and the records of those without one."""
    kinds = {"movement": Movement, "hands": HandSet, "stem": Stem, "crown": Crown}
    stays = {name: getattr(given, name) for name in ("hands", "stem", "crown") if getattr(given, name)}
    singles = {name: getattr(given, name) for name in OTHER_HANDS if getattr(given, name)}
    if len(singles) == 3:
        stays["hands"] = None
    open_parts = [name for name in kinds if name not in stays]
    decided, undecided = [], []
    for chosen in product(*(kinds[name].objects.filter(archived=False) for name in open_parts)):
        whole = dict(zip(open_parts, chosen, strict=True))
        report = answer(Pairing(case=given.case, dial=given.dial, **stays, **singles, **whole)).report
        if report.verdict is Verdict.NO:
            continue
        report = with_chance(report, planning.DRAWS)
        remedies = {remedy: item.key for item in reversed(report.checks) for remedy in item.remedies}
        cost = sum(not record.in_stock for record in chosen) + sum(remedy.kind == "part" for remedy in remedies)
        minutes = sum(remedy_minutes(key) for remedy, key in remedies.items() if remedy.kind == "work")
        if report.chance is None:
            undecided.append(whole)
        else:
            decided.append(((round(100 * (1 - report.chance[Verdict.NO])), minutes, cost), whole))
    return decided, undecided


def front_of(decided):
    """The aims that no other beats, each once, best chance first."""
    seen = {aims for aims, _ in decided}

    def beaten(chance, minutes, cost):
        as_good = ((c, m, k) for c, m, k in seen if c >= chance and m <= minutes and k <= cost)
        return any(other != (chance, minutes, cost) for other in as_good)

    return sorted((aims for aims in seen if not beaten(*aims)), key=lambda aims: (-aims[0], *aims[1:]))


def aims_of(plan):
    return plan.percent, plan.minutes, plan.cost


def stays(name):
    """What stays beside case and dial, by the name of the everyday case."""
    own = HandSetFactory(name="the watch's own", in_stock=None)
    own.hands.exclude(role="seconds").delete()
    Hand.objects.filter(hand_set=own).update(length=11.0)
    HandSet.objects.filter(pk=own.pk).update(archived=True)
    match name:
        case "its own seconds hand":
            return {"seconds_hand_from": own}
        case "its own crown":
            return {"crown": Crown.objects.first()}
        case "its hands":
            return {"hands": HandSet.objects.filter(archived=False).first(), "stem": Stem.objects.first()}
        case "three single hands":
            return dict.fromkeys(OTHER_HANDS, HandSet.objects.filter(archived=False).first())
    return {}


@pytest.mark.parametrize(
    "name", ["nothing else", "its own seconds hand", "its own crown", "its hands", "three single hands"]
)
def test_the_front_is_that_of_every_combination(library, name):
    given = Pairing(case=library.case, dial=library.dial, **stays(name))
    front = plans(given, {})
    decided, undecided = enumerated(given)
    assert [aims_of(plan) for plan in front.plans] == front_of(decided)
    by_parts = {tuple(whole.items()): aims for aims, whole in decided}
    for plan in front.plans:
        parts = {part: getattr(plan.pairing, part) for part in decided[0][1]}
        assert by_parts[tuple(parts.items())] == aims_of(plan)
    rest = [{part: getattr(plan.pairing, part) for part in undecided[0]} for plan in front.undecided]
    assert len(rest) == min(3, len(undecided)) > 0
    assert all(whole in undecided for whole in rest)
    assert (front.weighed, front.error, front.lacking) == (front.combinations, None, ())
    if name == "nothing else":
        assert (len(front.plans) > 2, front.combinations) == (True, 6 * 4 * 3 * 2)
