"""The best plans, held against every combination enumerated here, each by the fit check and its chance alone."""

from dataclasses import dataclass
from itertools import product

import pytest

from parts.fit import check_sheet
from parts.fit.bands import Verdict
from parts.goes_in import plan as planning
from parts.goes_in import shortlist
from parts.goes_in.lines import bench_minutes
from parts.goes_in.plan import plans
from parts.goes_in.search import Search
from parts.models import Crown, Hand, HandSet, Movement, Pairing, Stem
from parts.models.pairing import CENTRE_HANDS, OTHER_HANDS
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
from tests.fit.sheets import sheet

pytestmark = [pytest.mark.django_db, pytest.mark.alike]


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
    if {*CENTRE_HANDS} <= {*singles}:
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
            return dict.fromkeys(CENTRE_HANDS, HandSet.objects.filter(archived=False).first())
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


def test_every_hand_set_has_its_own_chance(library):
    """Two sets, alike but for a closed tube that brings the seconds hand nearer to the crystal."""
    for model in (Movement, HandSet):
        model.objects.update(archived=True)
    MovementFactory(in_stock=1)
    HandSetFactory(in_stock=0)
    HandSetFactory(in_stock=1).hands.filter(role="seconds").update(cap_thickness=0.05)
    given = Pairing(case=library.case, dial=library.dial, stem=Stem.objects.first(), crown=Crown.objects.first())
    front = plans(given, {})
    decided, _ = enumerated(given)
    assert [aims_of(plan) for plan in front.plans] == front_of(decided)
    assert len({plan.percent for plan in front.plans}) == 2


def test_every_stem_has_the_chance_that_its_room_in_the_tube_leaves(library):
    """A stem with little play in the tube allows less of the height, whose must names no number of the stem."""
    for model in (Movement, Stem):
        model.objects.update(archived=True)
    MovementFactory(in_stock=1, stem_axis_depth=1.6)
    library.case.stem_axis_depth, library.case.stem_axis_depth_pm = 2.0, 0.09
    library.case.tube_bore_diameter = 1.2
    library.case.save()
    StemFactory(diameter=0.9, in_stock=0), StemFactory(diameter=1.05, in_stock=1)
    parts = {"hands": HandSet.objects.first(), "crown": Crown.objects.first()}
    given = Pairing(case=library.case, dial=library.dial, **parts)
    front = plans(given, {})
    decided, _ = enumerated(given)
    assert [aims_of(plan) for plan in front.plans] == front_of(decided)
    assert len({plan.percent for plan in front.plans}) == 2


@pytest.mark.parametrize("name", ["nothing else", "its own seconds hand", "its own crown"])
def test_a_plan_is_what_the_fit_check_says_of_its_parts(library, name):
    front = plans(Pairing(case=library.case, dial=library.dial, **stays(name)), {})
    for plan in front.plans:
        assert plan.report.as_dict() == answer(plan.pairing).report.as_dict()
        assert (plan.pairing.seconds_hand_from is not None) == (name == "its own seconds hand")


def test_typed_numbers_count_but_not_those_of_what_is_looked_for(library):
    given = Pairing(case=library.case, dial=library.dial)
    narrow = plans(given, {"case.bore_diameter": "20"})
    assert (narrow.plans, narrow.undecided, narrow.weighed) == ([], [], 144)
    typed = plans(given, {"movement.fit_diameter": "5", "stem.length": "1"})
    assert [aims_of(plan) for plan in typed.plans] == [aims_of(plan) for plan in plans(given, {}).plans]


def test_at_the_limit_of_draws_what_is_left_out_is_not_counted(library, monkeypatch):
    monkeypatch.setattr(planning, "MOST_DRAWN", 1)
    front = plans(Pairing(case=library.case, dial=library.dial), {})
    assert front.plans
    assert front.weighed < front.combinations


@pytest.mark.parametrize("name", ["nothing else", "its own seconds hand", "its own crown", "its hands"])
def test_a_large_library_is_held_to_a_short_list_that_finds_the_same_here(library, monkeypatch, name):
    """With room for all that may fit, the short list loses none of it."""
    given = Pairing(case=library.case, dial=library.dial, **stays(name))
    whole = plans(given, {})
    monkeypatch.setattr(planning, "LIMIT", 10)
    short = plans(given, {})
    assert [aims_of(plan) for plan in short.plans] == [aims_of(plan) for plan in whole.plans]
    assert [plan.pairing.part_keys for plan in short.undecided] == [plan.pairing.part_keys for plan in whole.undecided]
    assert 0 < short.weighed < short.combinations == whole.combinations


def test_a_hand_that_stays_takes_the_place_of_the_sets_own_in_the_short_list(library, monkeypatch):
    """No set's own seconds hand would pass the rim."""
    Hand.objects.filter(role="seconds").update(length=20.0)
    given = Pairing(case=library.case, dial=library.dial, **stays("its own seconds hand"))
    whole = plans(given, {})
    monkeypatch.setattr(planning, "LIMIT", 10)
    short = plans(given, {})
    assert [aims_of(plan) for plan in short.plans] == [aims_of(plan) for plan in whole.plans] != []


def test_a_short_list_takes_the_best_and_the_best_in_stock_in_turn(library, monkeypatch):
    monkeypatch.setattr(shortlist, "PLANS", 8)
    monkeypatch.setattr(shortlist, "PLACES", 4)
    choices = shortlist.shortlist(Search.of(Pairing(case=library.case, dial=library.dial), {}))
    assert len(choices) == len(set(choices)) == 8
    movements = Movement.objects.in_bulk({choice[0] for choice in choices})
    assert {movement.overall_diameter for movement in movements.values()} == {26.15}
    assert shortlist._in_turn([(1,), (2,), (3,), (4,)], [{3, 4}]) == [(1,), (3,), (2,), (4,)]


def test_only_movements_are_looked_for_where_all_else_stays(library, monkeypatch):
    monkeypatch.setattr(planning, "LIMIT", 2)
    rest = {"hands": HandSet.objects.first(), "stem": Stem.objects.first(), "crown": Crown.objects.first()}
    front = plans(Pairing(case=library.case, dial=library.dial, **rest), {})
    assert (front.weighed, front.combinations) == (5, 6)
    assert {plan.pairing.hands for plan in front.plans} == {rest["hands"]}


def test_a_library_without_a_kind_of_part_says_which():
    given = Pairing(case=CaseFactory(), dial=DialFactory())
    assert plans(given, {}).lacking == ("movement", "hands", "stem", "crown")
    MovementFactory(), HandSetFactory(), StemFactory(), CrownFactory(archived=True)
    assert plans(given, {}).lacking == ("crown",)


def test_what_cannot_be_checked_is_the_fronts_error(library):
    assert plans(library, {"case.bore_diameter": "41"}).error.key == "case.crown_seat_radius"


def test_numbers_of_a_part_that_contradict_each_other_are_no_plan(library):
    Hand.objects.filter(role="hour").update(hub_height=0.05, thickness=0.2)
    front = plans(library, {})
    assert (front.plans, front.undecided, front.error) == ([], [], None)


def test_the_number_of_queries_does_not_grow(library, django_assert_max_num_queries):
    MovementFactory.create_batch(5), HandSetFactory.create_batch(5)
    with django_assert_max_num_queries(50):
        plans(library, {})


@dataclass(frozen=True)
class Sketched:
    """A plan of which only the aims are told."""

    minutes: int
    cost: int
    chance: dict
    share: float | None = None
    is_undecided: bool = False

    @property
    def report(self):
        return self

    @property
    def percent(self):
        return None if self.share is None else round(100 * self.share)


def test_a_plan_that_is_not_certain_keeps_no_surer_one_from_being_drawn(monkeypatch):
    monkeypatch.setattr(planning, "with_chance", lambda report, _draws: report)
    monkeypatch.setattr(planning, "_what_decides", id)
    likely, sure = Sketched(10, 1, {Verdict.NO: 0.01}), Sketched(20, 2, {Verdict.NO: 0.0})
    worse = Sketched(20, 3, {Verdict.NO: 0.0})
    drawn, _, _ = planning._drawn([likely, sure, worse])
    assert [(plan.minutes, plan.percent) for plan in drawn] == [(10, 99), (20, 100)]


def test_what_is_made_or_bought_takes_no_bench_minutes():
    bushed = check_sheet(sheet({"hands.hour.hole_diameter": 1.62}))
    assert [remedy.kind for remedy in bushed["post-hour"].remedies] == ["part"]
    assert bench_minutes(bushed) == 0
    assert bench_minutes(check_sheet(sheet({"hands.hour.hole_diameter": 1.42}))) == remedy_minutes("post-hour") == 10
