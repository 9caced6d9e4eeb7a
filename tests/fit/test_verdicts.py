"""How intervals meet bands, and checks make the overall verdict."""

import pytest

from parts.fit.arithmetic.quantities import Quantity, measured, unknown
from parts.fit.bands import Verdict, bands, by_accepting, by_part, by_work, fits, no, work
from parts.fit.check import overall
from parts.fit.verdicts import judge, weakest
from tests.fit.sheets import report

LINE = (no("no"), 0.0, work("work", by_work("do")), 1.0, fits("fits"), 2.0, work("part", by_part("get")), 3.0, no("no"))


def verdict(low, high):
    value = measured("x", (low + high) / 2, (high - low) / 2)
    return str(judge("k", "Title", value, bands(*LINE)).verdict)


@pytest.mark.parametrize(
    ("low", "high", "expected"),
    [
        (-2.0, -1.0, "no"),
        (-2.0, -1e-8, "no"),
        (-2.0, 0.0, "unclear"),
        (-1.0, 0.5, "unclear"),
        (0.0, 0.5, "work"),
        (0.5, 1.0, "work"),
        (1.0, 2.0, "fits"),
        (0.99, 1.5, "work"),
        (1.5, 2.01, "work"),
        (2.5, 3.0, "work"),
        (2.5, 3.01, "unclear"),
        (3.01, 4.0, "no"),
        (-1.0, 4.0, "unclear"),
        (0.5, 2.5, "work"),
    ],
)
def test_the_interval_decides(low, high, expected):
    assert verdict(low, high) == expected


@pytest.mark.parametrize("edge", [0.0, 1.0, 2.0, 3.0])
def test_an_edge_belongs_to_its_better_side_with_a_slack_of_a_billionth(edge):
    better, worse = {
        0.0: ("work", "no"),
        1.0: ("fits", "work"),
        2.0: ("fits", "work"),
        3.0: ("work", "no"),
    }[edge]
    side = -1 if edge in (0.0, 1.0) else 1
    assert verdict(edge, edge) == better
    assert verdict(edge + side * 0.9e-9, edge + side * 0.9e-9) == better
    assert verdict(edge + side * 1.1e-9, edge + side * 1.1e-9) == worse


def test_between_a_part_and_bench_work_the_edge_is_the_bench_works():
    row = bands(work("a", by_work("do")), 1.0, work("b", by_part("get")), 2.0, work("c", by_accepting("take")))
    said = [judge("k", "T", Quantity(at), row).sentence for at in (1.0, 2.0)]
    assert said == ["a", "c"]


def test_between_equals_the_edge_is_the_upper_ones():
    row = bands(work("a", by_part("get")), 1.0, work("b", by_part("get")))
    assert judge("k", "T", Quantity(1.0), row).sentence == "b"


@pytest.mark.parametrize(
    ("value", "margin"),
    [(1.5, 0.5), (1.25, 0.25), (1.75, 0.25), (0.25, 0.25), (2.9, 0.1), (-1.0, None), (1.0, 0.0)],
)
def test_the_margin_is_the_way_to_the_nearest_worse_band(value, margin):
    found = judge("k", "T", Quantity(value), bands(*LINE)).margin
    assert found == (None if margin is None else pytest.approx(margin))


def test_a_remedy_is_named_once():
    row = bands(work("a", by_part("get")), 1.0, fits("b"), 2.0, work("c", by_part("get")))
    assert len(judge("k", "T", measured("x", 1.5, 1.0), row).remedies) == 1


def test_the_remedies_of_the_nominal_band_come_first():
    found = judge("k", "T", measured("x", 2.5, 2.0), bands(*LINE))
    assert [remedy.kind for remedy in found.remedies] == ["part", "work"]


def test_no_and_fits_ask_for_nothing():
    for at in (-1.0, 1.5):
        assert judge("k", "T", Quantity(at), bands(*LINE)).remedies == []


@pytest.mark.parametrize(("at", "asked"), [(-0.1, []), (0.1, ["only 0.10 mm"])])
def test_a_remedy_that_tells_the_value_is_not_asked_for_where_it_is_a_misfit(at, asked):
    row = bands(no("no"), 0.0, work("work", by_work("only {value}")), 1.0, fits("fits"))
    found = judge("k", "T", measured("x", at, 0.3), row)
    assert (found.verdict, [remedy.text for remedy in found.remedies]) == ("unclear", asked)


@pytest.mark.parametrize(
    ("value", "plus_minus", "asked"),
    [
        (0.00, 0.12, "Make it up to 0.12 mm thick."),
        (0.00, 0.60, "Make it up to 0.50 mm thick."),
        (0.30, 0.12, "Make it 0.30 mm thick."),
    ],
)
def test_a_remedy_that_only_the_interval_calls_for_tells_its_end_in_that_band(value, plus_minus, asked):
    row = bands(fits("fits"), 0.1, work("work", by_part("Make it {value} thick.")), 0.5, no("no"))
    check = judge("k", "T", measured("x", value, plus_minus), row)
    assert [remedy.text for remedy in check.remedies] == [asked]


def test_an_end_nearer_to_nought_than_the_value_is_told_alone():
    row = bands(work("work", by_accepting("It ends {size} inside, {value}.")), 1.0, fits("fits"))
    check = judge("k", "T", measured("x", 1.1, 0.3), row)
    assert [remedy.text for remedy in check.remedies] == ["It ends 0.80 mm inside, 0.80 mm."]


def test_the_size_on_the_other_side_of_nought_is_the_interval_s_end():
    row = bands(work("short", by_accepting("It ends {size} inside.")), -0.2, fits("fits"))
    check = judge("k", "T", measured("x", 0.0, 0.3), row)
    assert [remedy.text for remedy in check.remedies] == ["It ends up to 0.30 mm inside."]


def test_something_else_that_must_be_known_makes_unclear():
    found = judge("k", "T", Quantity(1.5), bands(*LINE), needs=(unknown("movement.current"),))
    assert (found.verdict, found.missing) == ("unclear", ("movement.current",))


def candidate(value, half=0.0):
    return judge("k", "T", measured(f"x{value}", value, half), bands(*LINE))


def test_of_several_the_worst_verdict_then_the_smallest_then_the_widest_decides():
    assert weakest([candidate(1.5), candidate(0.5), candidate(0.4)]).value.value == 0.4
    assert weakest([candidate(0.4), candidate(1.5, 1.6)]).value.value == 1.5
    assert weakest([candidate(1.5), candidate(1.4), candidate(1.6)], small_is_bad=False).value.value == 1.6
    assert weakest([candidate(1.5, 0.1), candidate(1.5, 0.2)]).value.half_width == pytest.approx(0.2)


def test_one_missing_candidate_leaves_the_whole_unclear():
    lost = judge("k", "T", unknown("dial.thickness"), bands(*LINE))
    found = weakest([candidate(-1.0), lost])
    assert (found.verdict, found.missing, found.value.value) == ("unclear", ("dial.thickness",), None)


NO = {"case.back_depth": 3.0}
UNCLEAR = {"case.dial_seat_diameter": [28.0, 0.2]}
LONG_OK = {"rules": {"stem_long_ok": 1.0}}


@pytest.mark.parametrize(
    ("changes", "expected"),
    [
        (LONG_OK, "fits"),
        ({}, "work"),
        (UNCLEAR, "unclear"),
        (NO, "no"),
        (NO | UNCLEAR, "no"),
        (LONG_OK | {"dial.minute_track_radius": 14.0}, "work"),
        (LONG_OK | {"dial.minute_track_radius": None}, "fits"),
        (LONG_OK | {"movement.current": None, "crown.tube_bore_diameter": None}, "fits"),
        (LONG_OK | {"hands.hour.mass": None}, "fits"),
        (LONG_OK | {"hands.hour.mass": 900.0}, "no"),
        (LONG_OK | {"dial.diameter": None, "dial.window": None}, "unclear"),
    ],
)
def test_overall(changes, expected):
    assert report(changes).verdict == expected


def test_nothing_to_check_fits():
    assert overall([]) == Verdict.FITS.rank


@pytest.mark.parametrize(
    ("changes", "words"),
    [
        (LONG_OK, "Everything fits as it is."),
        ({}, "Fits, with 1 job at the bench."),
        ({"crown.thread": 1.2}, "Fits, with 1 part to make or buy, 1 job at the bench."),
        (UNCLEAR, "1 check still open."),
        (NO, "The case back will not close: the movement stands 0.90 mm too tall."),
        (
            NO | {"case.bore_diameter": 25.0},
            "The movement, 28.65 mm across, is 3.65 mm too wide for the 25.00 mm bore. 2 more checks do not fit.",
        ),
    ],
)
def test_why(changes, words):
    assert report(changes).why.startswith(words)
