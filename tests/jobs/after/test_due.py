"""When a cell falls due, and what stands in the list."""

import datetime as dt

import pytest
from django.utils import timezone

from jobs.after import noting
from jobs.after.due import all_due, cell_months, open_due, waiting
from jobs.after.listing import groups, when
from jobs.models import Event, FollowUp, Job, Shop
from jobs.papers.dates import months_later
from parts.dimensions.field import Source
from parts.fit.arithmetic.quantities import measured
from parts.fit.checks.cell import months_running
from tests.factories import JobFactory, MovementFactory

pytestmark = pytest.mark.django_db
HOME = dt.date(2024, 5, 10)


@pytest.fixture(autouse=True)
def no_warranty(db):
    Shop.objects.create(warranty_months=0)


def test_a_cell_that_loses_nothing_runs_for_its_capacity_over_the_current():
    life = months_running(measured("c", 45.0), measured("i", 1.5))
    assert life.value == pytest.approx(45 / 0.0015 / 24 / 30.4375)


@pytest.mark.parametrize("share", [0.0, 0.01, 0.02, 0.10])
def test_what_a_cell_loses_by_itself_shortens_it_as_a_simulation_by_the_hour_says(share):
    """Taken out hour by hour: the movement's current, and the share of what a new cell holds."""
    life = months_running(measured("c", 45.0), measured("i", 1.5), measured("s", share)).value
    left, hours = 45.0, 0
    while left > 0:
        left -= 0.0015 + 45.0 * share / (365.25 * 24)
        hours += 1
    assert life == pytest.approx(hours / 24 / 30.4375, abs=0.01)


def test_the_range_takes_in_every_capacity_current_and_loss():
    movement = MovementFactory.build(cell_capacity=45.0, cell_capacity_pm=2.0, current=1.5, current_pm=0.1)
    life = cell_months(movement)
    inside = [
        months_running(measured("c", c), measured("i", i), measured("s", s)).value
        for c in (44.0, 46.0)
        for i in (1.45, 1.55)
        for s in (0.0, 0.02)
    ]
    assert life.low < min(inside) < max(inside) < life.high


def test_a_cell_falls_due_in_a_range_of_months_from_the_day_of_handover(gone_home):
    job = gone_home(HOME)
    (due,) = all_due()
    assert (due.job, due.kind, due.begins, due.missing) == (job.pk, "cell", HOME, ())
    assert (due.first, due.last) == (dt.date(2027, 7, 1), dt.date(2027, 10, 1))
    assert when(due) == "July to October 2027"


@pytest.mark.parametrize(
    ("facts", "words"),
    [
        ({"current": None}, "not measured: current"),
        ({"cell_capacity": None}, "not measured: cell capacity"),
        ({"cell_capacity": None, "current": None}, "not measured: cell capacity, current"),
    ],
)
def test_without_a_number_no_range_is_made_up(gone_home, facts, words):
    gone_home(HOME, **facts)
    (due,) = all_due()
    assert (due.first, due.last, when(due)) == (None, None, words)
    (group,) = groups(HOME)
    assert group.head == "No month known"


def test_a_capacity_known_by_a_bound_gives_a_beginning_without_an_end(gone_home):
    gone_home(HOME, cell_capacity_source=Source.AT_LEAST)
    (due,) = all_due()
    assert due.last is None
    assert when(due).startswith("from ")
    assert not due.is_late(dt.date(2099, 1, 1))


@pytest.mark.parametrize(
    "facts", [{"kind": "mechanical"}, {"kind": "", "cell_type": "", "cell_capacity": None, "current": None}]
)
def test_what_runs_on_no_cell_has_none_due(gone_home, facts):
    gone_home(HOME, **facts)
    assert all_due() == []


def test_an_open_job_has_nothing_due_yet(gone_home):
    Job.objects.filter(pk=gone_home(HOME).pk).update(state=Job.State.OPEN)
    assert all_due() == []


def test_overdue_begins_once_the_last_month_is_over(gone_home):
    gone_home(HOME)
    (due,) = all_due()
    assert not due.is_late(dt.date(2027, 10, 31))
    assert due.is_late(dt.date(2027, 11, 1))
    heads = [groups(day)[0].head for day in (dt.date(2027, 8, 5), dt.date(2027, 11, 1), dt.date(2025, 1, 1))]
    assert heads == ["August 2027", "Overdue", "Later"]
    assert [waiting(day) for day in (dt.date(2027, 8, 5), dt.date(2027, 11, 1), dt.date(2027, 6, 30))] == [
        (0, 1),
        (1, 0),
        (0, 0),
    ]


def test_a_new_cell_begins_a_new_range_and_undone_gives_the_old_one_back(gone_home, owner):
    job = gone_home(HOME)
    (due,) = all_due()
    noting.ask(job=job, due=due, on=dt.date(2026, 9, 1), by=owner)
    (due,) = all_due()
    assert due.note.asked_on == dt.date(2026, 9, 1)
    noting.finish(job=job, due=due, on=dt.date(2026, 9, 20), by=owner)
    (following,) = all_due()
    assert (following.begins, following.first, following.note) == (dt.date(2026, 9, 20), dt.date(2029, 12, 1), None)
    noting.undo(note=FollowUp.objects.get(), by=owner)
    (back,) = all_due()
    assert (back.begins, back.note.asked_on) == (HOME, dt.date(2026, 9, 1))
    kinds = [event.kind for event in job.events.exclude(kind=Event.Kind.CLOSED)]
    assert kinds == ["follow-up-undone", "followed-up", "asked"]


def test_a_day_before_the_cell_was_in_is_refused(gone_home, owner):
    job = gone_home(HOME)
    (due,) = all_due()
    for day in (HOME, HOME - dt.timedelta(days=1)):
        with pytest.raises(noting.TooEarly, match="10 May 2024"):
            noting.finish(job=job, due=due, on=day, by=owner)
    assert not FollowUp.objects.exists()


def test_no_longer_wanted_has_a_way_back(gone_home, owner):
    job = gone_home(HOME)
    (due,) = all_due()
    noting.want(job=job, due=due, is_wanted=False, by=owner)
    (due,) = all_due()
    assert (open_due(), groups(HOME)[0].head) == ([], "No longer wanted")
    noting.want(job=job, due=due, is_wanted=True, by=owner)
    assert len(open_due()) == 1


def test_a_promise_stands_there_on_its_day_until_it_is_done(owner):
    job = JobFactory()
    noting.promise(job=job, on=dt.date(2026, 3, 5), words="Ask how it runs", by=owner)
    (due,) = all_due()
    assert (due.first, due.is_late(dt.date(2026, 3, 5)), due.is_late(dt.date(2026, 3, 6))) == (
        dt.date(2026, 3, 5),
        False,
        True,
    )
    noting.finish(job=job, due=due, on=dt.date(2026, 3, 1), by=owner)
    assert all_due() == []


def test_a_warranty_ends_after_the_shops_months_and_leaves_the_list_a_month_later(gone_home):
    Shop.objects.update(warranty_months=12)
    today = timezone.localdate()
    gone_home(months_later(today, -6), kind="mechanical")
    gone_home(months_later(today, -15), kind="mechanical")
    (due,) = all_due()
    assert due.first == months_later(months_later(today, -6), 12)


def test_nothing_is_due_for_an_erased_customer(gone_home, owner):
    from jobs.customers.erase import erase

    job = gone_home(HOME)
    noting.promise(job=job, on=HOME, words="Ring Ottilie", by=owner)
    erase(customer=job.customer, by=owner, empty_texts=True)
    assert all_due() == []
    assert [note.words for note in FollowUp.objects.all()] == [""]


def test_the_queries_do_not_grow_with_the_jobs(gone_home, django_assert_num_queries):
    for _ in range(4):
        gone_home(HOME)
    with django_assert_num_queries(5):
        assert len(all_due()) == 4
