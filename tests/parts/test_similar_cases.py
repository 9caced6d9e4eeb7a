"""Cases near by their dimensions, against a plain loop over all of them."""

from math import inf
from random import Random

import pytest

from parts.dimensions.text import Reading
from parts.models import Case
from parts.similar_cases import FAR, NAMES, near, nearness, readings_of
from tests.factories import CaseFactory, CaseFamilyFactory

BASE = {"bore_diameter": 29.60, "dial_seat_diameter": 28.60, "stem_axis_depth": 2.15, "back_depth": 5.40}


@pytest.mark.parametrize(
    ("ours", "theirs", "units"),
    [
        ((29.60, 0.02), (29.60, 0.02), 0.0),
        ((29.60, 0.02), (29.62, 0.02), 0.5),
        ((29.60, 0.02), (29.64, 0.02), 1.0),
        ((29.60, 0.01), (29.63, 0.0), 3.0),
        ((29.60, 0.0), (29.60, 0.0), 0.0),
        ((29.60, 0.0), (29.61, 0.0), inf),
    ],
)
def test_how_near_two_readings_are(ours, theirs, units):
    assert nearness(Reading(*ours), Reading(*theirs)) == pytest.approx(units)
    assert nearness(Reading(*theirs), Reading(*ours)) == pytest.approx(units)


def test_readings_that_just_touch_are_within_whatever_the_last_digit_of_the_machine():
    for hundredths in range(1, 40):
        room = hundredths / 100
        assert nearness(Reading(27.30, room), Reading(27.30 + 2 * room, room)) <= 1


def case(name, **numbers):
    given = BASE | {f"{key}_pm": 0.02 for key in BASE} | numbers
    return Case.objects.create(name=name, **given)


@pytest.fixture
def asked():
    return {name: Reading(value, 0.02) for name, value in BASE.items()}


@pytest.mark.django_db
def test_the_same_case_comes_first_and_is_called_so(asked):
    case("apart", back_depth=5.90)
    case("near", bore_diameter=29.66)
    case("same", bore_diameter=29.62)
    first, second = near(asked)
    assert (first.case.name, first.same, first.units) == ("same", True, pytest.approx(0.5))
    assert (second.case.name, second.within, second.same, second.units) == ("near", False, False, pytest.approx(1.5))


@pytest.mark.django_db
def test_what_is_not_measured_is_not_compared_and_limits_what_is_said(asked):
    case("three", back_depth=None)
    (found,) = near(asked)
    assert (found.compared, found.within, found.same) == (3, True, False)
    gap = found.gaps[NAMES.index("back_depth")]
    assert (gap.compared, gap.difference, gap.units, gap.theirs_shown) == (False, None, None, "")


@pytest.mark.django_db
def test_a_case_that_shares_no_measured_dimension_is_left_out(asked):
    case("nothing", **dict.fromkeys(BASE, None))
    case("only the back", **(dict.fromkeys(BASE, None) | {"back_depth": 5.40}))
    assert [found.case.name for found in near(asked | {"back_depth": None})] == []
    assert [found.case.name for found in near(asked)] == ["only the back"]
    assert near(dict.fromkeys(NAMES, None)) == []


@pytest.mark.django_db
def test_without_any_uncertainty_equal_is_the_same_and_other_is_not_told_in_units():
    exact = {f"{name}_pm": 0.0 for name in BASE}
    case("equal", **exact)
    case("five hundredths", **(exact | {"bore_diameter": 29.65}))
    case("half a millimetre", **(exact | {"bore_diameter": 30.10}))
    equal, other = near({name: Reading(value) for name, value in BASE.items()})
    assert (equal.case.name, equal.same, equal.unstated) == ("equal", True, False)
    assert (other.case.name, other.same, other.unstated) == ("five hundredths", False, True)


@pytest.mark.django_db
def test_put_away_cases_and_the_case_itself_are_left_out(asked):
    case("away", archived=True)
    own = case("own")
    assert near(asked, leave_out=own.pk) == []
    assert [found.case.name for found in near(readings_of(own))] == ["own"]


def plain_units(one, asked):
    """Differences in combined uncertainties, by hand, of the dimensions measured on both."""
    found = []
    for name, reading in asked.items():
        value = getattr(one, name)
        if reading and value is not None:
            room = reading.plus_minus + getattr(one, f"{name}_pm")
            apart = abs(value - reading.value)
            found.append(apart / room if room else (0.0 if apart < 1e-9 else inf))
    return found


@pytest.mark.django_db
def test_the_search_finds_what_a_plain_loop_over_every_case_finds(django_assert_num_queries):
    draw, family = Random(7), CaseFamilyFactory()
    for number in range(600):
        numbers = {
            name: None if draw.random() < 0.2 else round(value + draw.gauss(0, 0.12), 2) for name, value in BASE.items()
        }
        spread = {f"{name}_pm": draw.choice((0.01, 0.02, 0.05)) for name in BASE}
        CaseFactory(family=family, name=f"case {number}", **numbers, **spread)
    asked = {name: Reading(value, draw.choice((0.01, 0.03))) for name, value in BASE.items()} | {"back_depth": None}
    with django_assert_num_queries(1):
        found = near(asked, most=10_000)
    plain = {one.pk: units for one in Case.objects.all() if (units := plain_units(one, asked))}
    wanted = {pk for pk, units in plain.items() if max(units) <= FAR + 1e-9}
    assert {one.case.pk for one in found} == wanted
    assert 20 < len(wanted) < 500
    for one in found:
        assert one.units == pytest.approx(max(plain[one.case.pk]))
        assert one.within == (max(plain[one.case.pk]) <= 1 + 1e-7)
    order = [(not one.within, -one.compared, round(one.units, 9)) for one in found]
    assert order == sorted(order)
