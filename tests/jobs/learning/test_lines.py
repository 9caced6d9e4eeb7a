"""What the bench said of its rules: counted, a limit proposed from ten outcomes on, and never set by itself."""

import pytest
from django.urls import reverse

from jobs.learning.lines import lines
from jobs.models import Hindsight, Job, Option, OptionReport, Outcome
from parts.fit.rules import RULES
from parts.models import Pairing, ShopRule
from parts.rules.by_check import RULES_OF
from parts.rules.edges import EDGES
from tests.factories import JobFactory

pytestmark = pytest.mark.django_db
PAGE = "jobs:rules-learned"


@pytest.fixture
def note(owner):
    """Notes a job whose report had a check of this value, and what the bench found ("" for as reported)."""

    def noted(value, found="", *, key="back-gap", said=None, plus_minus=0.0, word="well", rules=None):
        job = JobFactory(state=Job.State.FINISHED)
        option = Option.objects.create(job=job, pairing=Pairing.objects.create(), chosen=True)
        said = said or ("fits" if value >= 0.1 else "work")
        ends = {} if value is None else {"low": value - plus_minus, "high": value + plus_minus}
        check = {"key": key, "verdict": said, "value": value, **ends}
        OptionReport.objects.create(option=option, report={"checks": [check], "rules": rules or {}}, why="test")
        Outcome.objects.create(job=job, word=word)
        if found:
            Hindsight.objects.create(job=job, check_key=key, title="Back", said=said, found=found, by=owner)
        return job

    return noted


def line():
    return next(line for line in lines() if line.name == "back_gap_min")


def test_each_edge_is_a_rule_of_its_checks():
    for name, edge in EDGES.items():
        assert name in RULES
        assert all(name in RULES_OF[key] for key in edge.checks), name
        assert not edge.other or EDGES[edge.other].other == name


def test_how_often_the_report_was_right(note, owner_client):
    note(0.2)
    note(0.2, "work")
    note(0.05)
    note(0.05, "fits")
    assert (line().right, line().count, line().proposal) == (2, 4, None)
    assert '<td data-th="The report was right"><span>in 2 of 4</span>' in owner_client.get(reverse(PAGE)).text


def test_from_ten_outcomes_on_a_limit_is_proposed_with_what_it_would_have_changed(note, owner_client):
    for value in (0.11, 0.12, 0.13, 0.14, 0.15):
        note(value, "work")
    for value in (0.2, 0.21, 0.22, 0.25):
        note(value)
    assert line().proposal is None
    note(0.24)
    made = line()
    assert 0.15 < made.proposal < 0.2
    assert made.proposal == round(made.limit.value, 2)
    assert [(change.was, change.would_be, change.at_bench) for change in made.changes] == [("fits", "work", "work")] * 5
    assert made.for_the_better == 5
    text = owner_client.get(reverse(PAGE)).text
    assert f"Proposed: {made.proposal:.2f} mm." in text
    assert "5 of 10" in text
    assert not ShopRule.objects.exists()


def test_the_whole_interval_decides_what_would_have_changed(note):
    for value in (0.11, 0.12, 0.13, 0.14, 0.15):
        note(value, "work", plus_minus=0.02)
    for value in (0.2, 0.21, 0.22, 0.25, 0.24):
        note(value, plus_minus=0.02)
    edge, low = EDGES["back_gap_min"], min(line().outcomes, key=lambda each: each.value)
    assert (low.fits_by(0.09, edge), low.fits_by(0.091, edge)) == (True, False)


def test_a_limit_that_the_outcomes_bear_out_is_left(note):
    for value in (0.05, 0.06, 0.07, 0.08, 0.09):
        note(value)
    for value in (0.11, 0.12, 0.13, 0.14, 0.15):
        note(value)
    assert (line().right, line().count, line().proposal) == (10, 10, None)
    assert line().limit.low < 0.1 < line().limit.high


def test_no_limit_is_proposed_that_would_have_been_right_less_often(note):
    """Outcomes as reported bear the rule out, however wide the ± by which the report had decided."""
    for value in (0.12, 0.13, 0.14, 0.15, 0.16, 0.17):
        note(value, said="work", plus_minus=0.08)
    for value in (0.19, 0.2, 0.21, 0.22, 0.25, 0.3):
        note(value, said="fits", plus_minus=0.08)
    assert (line().right, line().proposal) == (12, None)
    assert line().limit.low < 0.1 < line().limit.high


def test_what_was_not_noted_or_unclear_tells_nothing(note):
    note(0.2, word="")
    note(0.2, said="unclear")
    note(None, said="work")
    assert lines() == []
    note(0.2, "fits", said="unclear")
    assert lines() == []


def test_of_two_edges_each_takes_the_values_on_its_side(note):
    both = {"dial_play_min": 0.02, "dial_play_max": 0.3}
    for value in (0.01, 0.1, 0.2, 0.4):
        note(value, key="dial-seat", said="fits", rules=both)
    counts = {each.name: [one.value for one in each.outcomes] for each in lines()}
    assert {name: sorted(values) for name, values in counts.items()} == {
        "dial_play_min": [0.01, 0.1],
        "dial_play_max": [0.2, 0.4],
    }


def test_the_page_says_what_it_waits_for(owner_client, note):
    assert "Nothing said yet" in owner_client.get(reverse(PAGE)).text
    note(0.2)
    text = owner_client.get(reverse(PAGE)).text
    assert "Too few outcomes yet" in text
    assert "in 1 of 1" in text
    for _ in range(9):
        note(0.2)
    assert "All of them turned out alike" in " ".join(owner_client.get(reverse(PAGE)).text.split())
