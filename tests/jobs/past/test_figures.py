"""The numbers of the shop, against the same sums in plain Python."""

from collections import defaultdict
from datetime import date
from statistics import median, quantiles

import pytest

from jobs.models import Past, PastCheck, Stage
from jobs.past.figures import statistics
from jobs.past.figures.tables import all_tables

pytestmark = pytest.mark.django_db
EVER = (None, None)


@pytest.fixture
def finished(thousands):
    return list(Past.objects.filter(state="finished").select_related("family", "movement"))


@pytest.mark.parametrize("relation", ["family", "movement"])
def test_conversions_and_hours_are_counted_by_kind(finished, relation):
    plain = defaultdict(list)
    for past in finished:
        plain[getattr(past, relation).name].append(past)
    found = statistics.by_kind(statistics.finished(*EVER), relation)
    assert {one.name for one in found} == plain.keys()
    for one in found:
        mine = plain[one.name]
        assert (one.jobs, one.both) == (len(mine), len(mine))
        assert one.quoted == pytest.approx(sum(past.quoted for past in mine))
        assert one.took == pytest.approx(sum(past.took for past in mine))
        assert one.ratio == pytest.approx(one.took / one.quoted)
    assert [one.jobs for one in found] == sorted((one.jobs for one in found), reverse=True)


def test_only_jobs_with_both_are_compared(thousands):
    some = Past.objects.filter(state="finished")[:3]
    Past.objects.filter(pk=some[0].pk).update(quoted=None)
    Past.objects.filter(pk=some[1].pk).update(took=None)
    found = statistics.by_kind(statistics.finished(*EVER), "family")
    assert sum(one.jobs for one in found) - sum(one.both for one in found) == 2


def test_hours_by_stage(finished):
    found = statistics.by_stage(statistics.finished(*EVER))
    assert [one.name for one in found] == [kind.label for kind in Stage.Kind][1:]
    for one, kind in zip(found, list(Stage.Kind)[1:], strict=True):
        assert one.minutes == pytest.approx(sum(past.spent[kind] for past in finished))
        assert (one.jobs, one.mean) == (len(finished), pytest.approx(one.minutes / len(finished)))


def test_checks_are_counted_by_what_was_said_and_what_the_bench_said(thousands):
    rows = list(PastCheck.objects.all())
    found, jobs = statistics.checks(*EVER)
    assert jobs == Past.objects.count()
    for one in found:
        mine = [row for row in rows if row.check_key == one.key]
        assert one.no == sum(row.said == "no" for row in mine)
        assert one.work == sum(row.said == "work" for row in mine)
        assert one.too_good == sum(row.found == "no" and row.said in ("fits", "work") for row in mine)
        assert one.too_bad == 0
    assert [one.wrong for one in found] == sorted((one.wrong for one in found), reverse=True)


@pytest.mark.parametrize("step", ["month", "quarter", "year"])
def test_turnaround_has_the_quartiles_of_each_span(finished, step):
    plain = defaultdict(list)
    for past in finished:
        day = past.day
        name = {"month": f"{day:%Y-%m}", "quarter": f"{day.year}, quarter {(day.month + 2) // 3}", "year": f"{day:%Y}"}
        plain[name[step]].append(past.days)
    found = statistics.turnaround(statistics.finished(*EVER), step)
    assert [one.name for one in found] == sorted(plain)
    for one in found:
        days = plain[one.name]
        assert one.jobs == len(days)
        assert one.middle == pytest.approx(median(days))
        if len(days) > 1:
            assert (one.low, one.high) == pytest.approx(tuple(quantiles(days, n=4, method="inclusive"))[::2])


def test_only_the_days_asked_for_count(thousands):
    since, until = date(2014, 3, 1), date(2014, 3, 31)
    wanted = Past.objects.filter(state="finished", month=201403)
    assert (
        sum(one.jobs for one in statistics.by_kind(statistics.finished(since, until), "family")) == wanted.count() > 10
    )
    assert [one.name for one in statistics.turnaround(statistics.finished(since, until), "month")] == ["2014-03"]


def test_the_numbers_take_few_queries_for_any_count(thousands, django_assert_num_queries):
    with django_assert_num_queries(6):
        all_tables(*EVER, "quarter")
    with django_assert_num_queries(6):
        all_tables(date(1999, 1, 1), date(1999, 2, 1), "quarter")
