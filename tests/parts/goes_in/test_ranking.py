"""The library ranked: held against the single fit check, pairing by pairing."""

import random
from collections import Counter

import numpy as np
import pytest

from parts.fit import SheetError
from parts.fit.bands import Verdict
from parts.fit.check import check
from parts.fit.sheet import read_sheet
from parts.goes_in.given import dials_of
from parts.goes_in.lines import line_of
from parts.goes_in.matrix import matrix
from parts.goes_in.question import Question, rank
from parts.models import Crown, FootHole, Hand, HandSet, Movement, Pairing, Stem
from parts.pairings.answer import answer
from parts.rules.remedy_minutes import remedy_minutes
from parts.sheets import part_sheet, sheet_for, sheet_of
from tests.factories import (
    CaseFactory,
    CaseFamilyFactory,
    CrownFactory,
    DialFactory,
    HandSetFactory,
    MovementFactory,
    PairingFactory,
    StemFactory,
)
from tests.fit.constructions.sheets import SMALL

pytestmark = [pytest.mark.django_db, pytest.mark.alike]


def varied(base, model, count, chance, **flags):
    """Unsaved rows like `base`, their dimensions moved, uncertain or lost."""
    rows = []
    for _ in range(count):
        row = model(**{name: choose(chance) for name, choose in flags.items()})
        for name, dimension in model.dimensions.items():
            value = getattr(base, name)
            if value is None or chance.random() < 0.03:
                continue
            moved = value + chance.choice([0.0, chance.gauss(0, 0.05), chance.gauss(0, 0.3)])
            if value > 40:
                moved = value + chance.gauss(0, 30)
            moved = max(round(moved, 3), dimension.input.least + 0.001)
            dimension.put(row, min(moved, dimension.input.most), chance.choice([0.0, 0.02, 0.1]))
        if model is Hand and row.hub_height and row.thickness:
            row.hub_height = max(row.hub_height, row.thickness)
        rows.append(row)
    return rows


def a_library(seed, count):
    """A pairing and a library of parts around it."""
    chance = random.Random(seed)
    pairing = PairingFactory(dial=DialFactory(dated=True), movement=MovementFactory(dated=True))
    named = {"name": lambda chance: f"part {chance.randrange(10**6)}"}
    yes = {"has_date": lambda c: c.random() < 0.5, "foot_holes_recorded": lambda c: c.random() < 0.8}
    movements = Movement.objects.bulk_create(varied(pairing.movement, Movement, count, chance, **named, **yes))
    for movement in movements:
        if not movement.has_date:
            Movement.objects.filter(pk=movement.pk).update(
                **{name: None for name in Movement.dimensions if name.startswith("date_")}
            )
    hole = pairing.movement.foot_holes.first()
    FootHole.objects.bulk_create(
        row
        for movement in movements
        for row in varied(hole, FootHole, chance.randrange(4), chance, movement=lambda chance, m=movement: m)
    )
    sets = HandSet.objects.bulk_create(HandSet(name=f"set {i}") for i in range(count))
    for hand in pairing.hands.hands.all():
        Hand.objects.bulk_create(
            row
            for one in sets
            if hand.role != "seconds" or chance.random() < 0.6
            for row in varied(hand, Hand, 1, chance, hand_set=lambda chance, s=one: s, role=lambda c, r=hand.role: r)
        )
    Crown.objects.bulk_create(
        varied(pairing.crown, Crown, count, chance, **named, style=lambda c: c.choice(["", "push", "screw"]))
    )
    Stem.objects.bulk_create(varied(pairing.stem, Stem, count, chance, **named))
    return pairing


def expected(question, record):
    """Verdict's rank, musts that say no, minutes and counts of one part, by the single check; None where it refuses."""
    try:
        sheet, rules = read_sheet(question.sheet | {question.part: part_sheet(question.part, record)})
    except SheetError:
        return None
    report = check(sheet, rules, question.parts)
    remedies = report.asked_for
    kinds = Counter(remedy.kind for _, remedy in remedies)
    minutes = sum(remedy_minutes(item.key) for item, remedy in remedies if remedy.kind == "work")
    noes = sum(item.must and item.verdict is Verdict.NO for item in report.checks)
    return report.verdict.rank, noes, minutes, kinds["part"], kinds["work"], kinds["accept"]


def test_one_trim_of_the_dial_for_bore_and_seat_counts_once():
    case = CaseFactory(bore_diameter=28.3, dial_seat_diameter=28.4, crown_seat_radius=15.0)
    pairing = PairingFactory(case=case, dial=DialFactory(diameter=28.5))
    question = Question.of("movement", pairing, {})
    report = check(*read_sheet(question.sheet_with(pairing.movement)), question.parts)
    assert {"dial-bore", "dial-seat"} <= {item.key for item in report.checks if "Reduce" in str(item.remedies)}
    one = rank(question, Movement.objects.all()).standing
    assert (one.work[0], one.minutes[0]) == (
        sum(remedy.kind == "work" for _, remedy in report.asked_for),
        sum(remedy_minutes(item.key) for item, remedy in report.asked_for if remedy.kind == "work"),
    )


GIVEN = {
    "movement": [("case", "dial", "hands", "stem", "crown"), ("case", "dial"), ("case",), ("dial", "hands")],
    "hands": [("case", "dial", "movement", "stem", "crown"), ("movement",)],
    "crown": [("case", "dial", "movement", "hands", "stem"), ("case",)],
    "stem": [("case", "dial", "movement", "hands", "crown"), ("movement",)],
}
MODELS = {"movement": Movement, "hands": HandSet, "crown": Crown, "stem": Stem}


@pytest.mark.parametrize("part", GIVEN)
def test_every_rank_is_that_of_the_single_check(part):
    whole = a_library(f"ranking {part}", 250)
    seen = Counter()
    for given in GIVEN[part]:
        pairing = Pairing(**{name: getattr(whole, name) for name in given})
        question = Question.of(part, pairing, {})
        ranking = rank(question, MODELS[part].objects.all())
        records = MODELS[part].objects.in_bulk()
        assert sorted(ranking.keys) == sorted(records)
        previous, refused = None, 0
        for i, key in enumerate(ranking.keys):
            one = ranking.standing
            found = tuple(
                int(column[i]) for column in (one.rank, one.noes, one.minutes, one.part, one.work, one.accept)
            )
            single = expected(question, records[key])
            refused += single is None
            assert found == (single or found), (given, records[key].pk)
            place = (*found[:4], found[5], found[4], key)
            assert previous is None or previous < place
            previous = place
            seen[found[0]] += 1
        assert refused < len(records) / 3
        assert dict(ranking.counts) == {str(v): sum(ranking.standing.rank == v.rank) for v in Verdict}
    assert len([rank for rank, count in seen.items() if count > 20]) >= (3 if part != "stem" else 2), seen


def test_a_line_says_for_which_value_it_would_go_in():
    pairing = PairingFactory()
    pairing.case.stem_axis_depth = None
    pairing.case.save()
    movement = pairing.movement
    line = line_of(Question.of("movement", pairing, {}), movement)
    assert line.report.verdict == "unclear"
    assert line.reasons[0].startswith("Would fit if the case stem axis depth is between ")
    low, high = (float(word) for word in line.reasons[0].split() if word[0].isdigit())
    for depth, goes in ((low, True), (high, True), (low - 0.011, False), (high + 0.011, False)):
        pairing.case.stem_axis_depth = depth
        pairing.case.save()
        asked = Question.of("movement", pairing, {})
        assert (line_of(asked, movement).report.verdict.rank <= Verdict.WORK.rank) is goes, depth


def test_typed_numbers_stand_for_a_case_that_nobody_chose():
    pairing = PairingFactory()
    question = Question.of("movement", Pairing(), {"case.bore_diameter": "20"})
    ranking = rank(question, Movement.objects.filter(pk=pairing.movement_id))
    assert (question.is_open, [int(rank) for rank in ranking.standing.rank]) == (False, [Verdict.NO.rank])
    wide = Question.of("movement", Pairing(), {"case.bore_diameter": "40", "movement.fit_diameter": "3"})
    assert "movement.fit_diameter" not in wide.sheet
    assert rank(wide, Movement.objects.all()).standing.rank[0] <= Verdict.WORK.rank
    assert Question.of("movement", Pairing(), {}).is_open


def test_numbers_that_contradict_each_other_are_the_rankings_error():
    whole = PairingFactory(dial=DialFactory(dated=True))
    ranking = rank(Question.of("movement", whole, {"dial.window.radius": "30"}), Movement.objects.all())
    assert (ranking.error.key, len(ranking.keys)) == ("dial.window.radius", 0)


def test_an_empty_library_ranks_nothing():
    question = Question.of("movement", Pairing(case=CaseFactory()), {})
    assert (len(rank(question, Movement.objects.all()).keys), rank(question, Movement.objects.none()).error) == (
        0,
        None,
    )


def test_the_table_agrees_with_the_single_check():
    whole = a_library("table", 40)
    cases = [CaseFactory(bore_diameter=width, family=whole.case.family) for width in (24.0, 26.0, 27.0)]
    found = matrix(cases=[whole.case, *cases], movements=Movement.objects.all())
    records, compared = Movement.objects.in_bulk(), 0
    for i, case in enumerate(found.cases):
        for j, key in enumerate(found.movements):
            sheet = sheet_for(case=case, dial=found.dials[i], movement=records[key])
            try:
                read = read_sheet(sheet)
            except SheetError:
                continue
            compared += 1
            single = check(
                *read,
                {"case", "dial", "movement", "spacer"} if found.dials[i] else {"case", "movement", "spacer"},
            )
            assert found.ranks[i, j] == single.verdict.rank
    assert compared > 80
    assert found.takes.sum() == found.goes_into.sum() == np.sum(found.ranks <= Verdict.WORK.rank) > 0


def test_a_case_that_contradicts_itself_takes_nothing():
    MovementFactory()
    found = matrix(cases=[CaseFactory(crown_seat_radius=5.0)], movements=Movement.objects.all())
    assert (found.ranks.tolist(), found.takes.tolist()) == ([[-1]], [0])


def test_a_case_stands_with_the_dial_of_its_newest_pairing_else_of_its_family():
    family = CaseFamilyFactory()
    of_family = DialFactory(family=family, name="a")
    DialFactory(family=family, name="b")
    used, bare, foreign = CaseFactory(family=family), CaseFactory(family=family), CaseFactory(family=None)
    other = DialFactory()
    PairingFactory(case=used, dial=DialFactory())
    PairingFactory(case=used, dial=other)
    assert dials_of([used, bare, foreign]) == [other, of_family, None]


def test_the_number_of_queries_does_not_grow(django_assert_num_queries):
    HandSetFactory.create_batch(2), StemFactory.create_batch(2), CrownFactory.create_batch(2)
    MovementFactory.create_batch(12)
    question = Question.of("movement", PairingFactory(), {})
    with django_assert_num_queries(2):
        rank(question, Movement.objects.all())
    with django_assert_num_queries(4):
        rank(
            Question(part="hands", sheet=question.sheet, parts=question.parts, faults={}),
            HandSet.objects.all(),
        )


def test_movements_with_outlines_and_small_hands_rank_as_their_single_checks_say():
    pairing = PairingFactory(
        case=CaseFactory(bore_diameter=None, bore_outline=OUTLINE | {"width": 27.0, "height": 31.0})
    )
    chance = random.Random(4)
    for _ in range(12):
        sizes = {name: [round(chance.gauss(size, 1.0), 2), 0.02] for name, size in SIZES.items()}
        outlines = {"outline": OUTLINE | sizes, "fit_outline": OUTLINE | sizes}
        MovementFactory(overall_diameter=None, fit_diameter=None, **outlines)
    MovementFactory(subsidiary=[{"name": "small seconds", "angle": 90, "radius": 5, "diameter": 0.25, "height": 1.0}])
    question = Question.of("movement", pairing, {})
    ranking = rank(question, Movement.objects.all())
    seen = Counter()
    for key, verdict in zip(ranking.keys.tolist(), ranking.standing.rank.tolist(), strict=True):
        movement = Movement.objects.get(pk=key)
        single = check(*read_sheet(question.sheet | {"movement": part_sheet("movement", movement)}), question.parts)
        assert single.verdict.rank == verdict
        seen[single["case-bore"].verdict] += 1
    assert {Verdict.FITS, Verdict.NO} <= set(seen)


def test_hand_sets_rank_with_the_small_seconds_hand_that_stays():
    movement = MovementFactory(subsidiary=SMALL["movement.subsidiary"])
    own = HandSetFactory(hands=False, seconds=False, subsidiary=SMALL["hands.subsidiary"])
    pairing = PairingFactory(
        movement=movement, dial=DialFactory(subdials=SMALL["dial.subdials"]), small_seconds_hand_from=own
    )
    loose = SMALL["hands.subsidiary"]["small seconds"] | {"hole_diameter": 0.6}
    for small in (None, {"small seconds": loose}, {"alarm": loose}):
        HandSetFactory(subsidiary=small)
    question = Question.of("hands", pairing, {})
    ranking = rank(question, HandSet.objects.exclude(pk=own.pk))
    for key, verdict in zip(ranking.keys.tolist(), ranking.standing.rank.tolist(), strict=True):
        whole = Pairing.objects.with_parts().get(pk=pairing.pk)
        whole.hands = HandSet.objects.get(pk=key)
        single = answer(whole).report
        assert single["sub-post"].verdict == "fits"
        small = question.sheet_with(whole.hands)["hands"]["subsidiary"]
        assert (single.verdict.rank, sheet_of(whole)["hands"]["subsidiary"]) == (verdict, small)
    assert len(ranking.keys) == 4


OUTLINE = {"shape": "rectangle", "corner": 2.0}
SIZES = {"width": 26.5, "height": 29.0}


def test_a_case_loaded_from_the_front_ranks_movements_by_its_floor():
    front = {"floor_stem": 1.9, "floor_ring": 3.9, "floor_crystal_centre": 6.3, "ring": "rehaut"}
    case = CaseFactory(loading="front", front_opening_diameter=28.0, **front)
    movement = MovementFactory(stem_axis_depth=1.6, back_height=3.5)
    question = Question.of("movement", PairingFactory(case=case, movement=movement), {})
    ranking = rank(question, Movement.objects.all())
    assert ranking.keys.tolist()
    single = check(*read_sheet(question.sheet | {"movement": part_sheet("movement", movement)}), question.parts)
    assert single.verdict.rank == ranking.standing.rank[ranking.keys.tolist().index(movement.pk)]
    assert single["ring-gap"].key == "ring-gap"
