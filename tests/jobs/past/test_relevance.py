"""What the search finds first among 5,000 past jobs: named queries with the job that must lead."""

import pytest

from jobs.models import Outcome, Past, PastText
from jobs.past.record import rebuild
from jobs.past.search.finding import PAGE, WINDOW, find, narrowed
from tests.factories import CaseFamilyFactory, CustomerFactory, JobFactory

pytestmark = pytest.mark.django_db

PLANTED = {
    "99-001": {"wish": "Grandfather's regatta watch; the pusher must stay."},
    "99-002": {"customer": "Åsa Björklund", "remarks": "The hour wheel rubbed below the dial washer."},
    "99-003": {"remarks": "Façade re-lacquered; the naïve flower on the dial kept."},
    "99-004": {"wrong": "The ring cracked while it was pressed in: the resin had become brittle."},
    "99-005": {"family": "Zephyr 37", "remarks": "Nothing to tell."},
    "99-006": {
        "remarks": "Thin, as the Zephyr is; holder, ring and spacer all printed anew, see the notes of the stem."
    },
    "99-007": {"stem": "Thread stripped in the keyless work, tapped anew."},
    "99-008": {"serial": "QX-77124"},
    "99-009": {"next_time": "Warm the bezel before prising it off."},
}
QUERIES = [
    # query, the job that leads
    ("regatta", "99-001"),
    ("regata pusher", "99-001"),
    ("grandfathers", "99-001"),
    ("asa bjorklund", "99-002"),
    ("BJÖRKLUND washer", "99-002"),
    ("bjorklnud wahser", "99-002"),
    ("facade naive", "99-003"),
    ("laquered facade", "99-003"),
    ("cracked ring", "99-004"),
    ("brittel resin", "99-004"),
    ("crakced", "99-004"),
    ("zephyr", "99-005"),
    ("zepyhr spacer", "99-006"),
    ("thread stripped", "99-007"),
    ("striped thread keyles", "99-007"),
    ("qx 77124", "99-008"),
    ("99-008", "99-008"),
    ("bezel", "99-009"),
    ("prising the bezle", "99-009"),
]


@pytest.fixture
def planted(thousands):
    """Nine jobs with words of their own among the 5,000."""
    jobs = [_plant(number, **facts) for number, facts in PLANTED.items()]
    rebuild([job.pk for job in jobs])
    return jobs


def _plant(number, customer="Plain Name", family="", wrong="", next_time="", stem="", **facts):
    job = JobFactory(
        number=number, state="finished", stage="", customer=CustomerFactory(name=customer),
        case_family=CaseFamilyFactory(name=family or f"Kind {number}"), **({"wish": "Plain wish."} | facts),
    )  # fmt: skip
    if wrong or next_time:
        Outcome.objects.create(job=job, went_wrong=wrong, next_time=next_time)
    job.stages.filter(kind="stem").update(remarks=stem)
    return job


def numbers(found):
    return [line.past.job.number for line in found.lines]


@pytest.mark.parametrize(("query", "first"), QUERIES, ids=[query for query, _ in QUERIES])
def test_the_job_that_is_meant_leads(planted, query, first):
    found = find(past=narrowed(states=["finished"]), words=query)
    assert numbers(found)[0] == first
    assert not found.some


def test_every_job_found_holds_every_word(thousands):
    found = find(past=narrowed(), words="bramblegate blued sanded")
    assert len(found.lines) > 2
    texts = {text.pk: f" {text.head} {text.body}" for text in PastText.objects.all()}
    holding = {
        pk for pk, text in texts.items() if all(f" {word}" in text for word in ("bramblegate", "blued", "sanded"))
    }
    keys, after = [], None
    while True:
        page = find(past=narrowed(), words="bramblegate blued sanded", after=after)
        keys += [line.past.pk for line in page.lines]
        if (after := page.onward) is None:
            break
    assert set(keys) == holding
    assert len(keys) == len(holding)


def test_where_no_job_holds_every_word_those_with_some_are_shown(planted):
    found = find(past=narrowed(), words="regatta zeppelinlike")
    assert (found.some, numbers(found)) == (True, ["99-001"])


def test_a_common_word_weighs_the_newest_thousand(thousands):
    found = find(past=narrowed(states=["finished"]), words="quartz")
    assert (found.many, len(found.lines)) == (True, PAGE)
    newest = PastText.objects.filter(body__contains="quartz", job__past__state="finished").order_by("-pk")
    allowed = set(newest.values_list("pk", flat=True)[:WINDOW])
    assert {line.past.pk for line in found.lines} <= allowed


def test_words_and_filters_hold_together(thousands):
    family = Past.objects.exclude(family=None).first().family
    found = find(past=narrowed(families=[family.pk], outcome="trouble"), words="crown")
    assert found.lines
    assert {(line.past.family_id, line.past.outcome) for line in found.lines} == {(family.pk, "trouble")}


def test_pages_without_words_list_every_job_once_newest_first(thousands):
    keys, days, after = [], [], None
    past = narrowed(states=["finished"], outcome="failed")
    while True:
        page = find(past=past, after=after)
        keys += [line.past.pk for line in page.lines]
        days += [(line.past.day, line.past.pk) for line in page.lines]
        if (after := page.onward) is None:
            break
    assert days == sorted(days, reverse=True)
    assert sorted(keys) == sorted(past.values_list("pk", flat=True))
    assert len(keys) > 3 * PAGE


@pytest.mark.parametrize("words", ["", "quartz", "brambelgate sanded", "holder nowhereatall"])
def test_a_search_takes_as_many_queries_for_few_jobs_as_for_many(thousands, words, django_assert_max_num_queries):
    with django_assert_max_num_queries(9):
        find(past=narrowed(), words=words)
    with django_assert_max_num_queries(9):
        find(past=narrowed(learn=True), words=words)


def test_an_unknown_place_to_go_on_from_begins_at_the_first(thousands):
    assert find(past=narrowed(), after=10**9).lines[0].past == find(past=narrowed()).lines[0].past
