"""The numbers of the shop where there are few jobs, its charts and its files."""

import csv
import io
from datetime import date
from statistics import median

import pytest

from jobs.models import Past, PastCheck
from jobs.past.figures import statistics, tables
from jobs.past.figures.tables import Table, all_tables, as_csv
from tests.factories import JobFactory

pytestmark = pytest.mark.django_db
EVER = (None, None)


@pytest.mark.parametrize(
    ("said", "found", "counted"),
    [
        ("fits", "no", (1, 0)), ("fits", "work", (1, 0)), ("work", "no", (1, 0)), ("work", "fits", (0, 1)),
        ("no", "fits", (0, 1)), ("no", "work", (0, 1)), ("unclear", "fits", (0, 0)), ("fits", "fits", (0, 0)),
    ],
)  # fmt: skip
def test_a_check_was_wrong_where_the_bench_said_otherwise(owner, said, found, counted):
    day = date(2026, 5, 4)
    past = Past.objects.create(job=JobFactory(state="finished"), state="finished", day=day, month=202605)
    PastCheck.objects.create(past=past, check_key="back-gap", title="Room", said=said, found=found)
    (one,), _ = statistics.checks(*EVER)
    assert (one.too_good, one.too_bad, one.wrong) == (*counted, sum(counted))


@pytest.mark.parametrize("days", [[4.0], [4.0, 10.0], [1.0, 2.0, 30.0], [5.0, 5.0, 5.0, 5.0]])
def test_turnaround_of_few_jobs_says_that_they_are_few(owner, days):
    for each in days:
        job = JobFactory(state="finished")
        Past.objects.create(job=job, state="finished", day=date(2026, 5, 4), month=202605, days=each)
    (one,) = statistics.turnaround(statistics.finished(*EVER), "month")
    assert (one.jobs, one.few, one.middle) == (len(days), True, pytest.approx(median(days)))
    (table,) = [table for table in all_tables(*EVER, "month") if table.key == "turnaround"]
    assert table.rows[0][-1] == "few jobs"


def test_a_file_has_every_row_and_nothing_that_a_spreadsheet_would_run(owner):
    names = ["=HYPERLINK(1)", "+1+1", "-2+3", "@SUM(1)", "\tx", "'quoted", "plain, with comma"]
    rows = [[name, "5"] for name in names] + [["many", "1"]] * tables.SHOWN
    text = as_csv(Table("families", "By family", ["Case family", "jobs"], rows, ""))
    read = list(csv.reader(io.StringIO(text, newline="")))
    assert read[0] == ["Case family", "jobs"]
    assert [row[0] for row in read[1:8]] == [
        "'=HYPERLINK(1)", "'+1+1", "'-2+3", "'@SUM(1)", "'\tx", "''quoted", "plain, with comma",
    ]  # fmt: skip
    assert len(read) == 1 + len(rows)


def test_charts_tell_their_words_and_escape_them(owner):
    day = date(2026, 5, 4)
    family = JobFactory(case_family__name="<b>Odd</b> & Sons").case_family
    past = {"state": "finished", "day": day, "month": 202605, "quoted": 60.0, "took": 90.0, "days": 3.0}
    Past.objects.create(job=JobFactory(state="finished"), family=family, **past)
    by_family, *_ = all_tables(*EVER, "month")
    assert "&lt;b&gt;Odd&lt;/b&gt; &amp; Sons" in by_family.chart
    assert by_family.chart.startswith("<svg><title>") is False
    assert "<title>Hours by case family</title><desc>All 1.</desc>" in by_family.chart
    assert "1.50 h spent for each hour quoted; too few to say much." in by_family.says
    assert "style=" not in by_family.chart
