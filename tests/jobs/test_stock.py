"""Parts from the drawer, also when two jobs want the last one."""

from concurrent.futures import ThreadPoolExecutor

import pytest
from django.db import connection

from jobs import stock
from jobs.models import Order, StockCount
from tests.factories import CrownFactory, JobFactory, MovementFactory

pytestmark = pytest.mark.django_db


def test_what_is_put_aside_is_no_longer_free_and_used_leaves_the_count(owner):
    movement, job = MovementFactory(in_stock=2), JobFactory()
    use = stock.put_aside(job=job, kind="movements", part=movement, by=owner)
    assert stock.available(movement, "movements") == 1
    stock.settle(use=use, state="used", by=owner)
    stock.settle(use=use, state="used", by=owner)
    movement.refresh_from_db()
    assert (movement.in_stock, stock.available(movement, "movements")) == (1, 1)


def test_what_is_put_back_is_free_again(owner):
    movement, job = MovementFactory(in_stock=1), JobFactory()
    use = stock.put_aside(job=job, kind="movements", part=movement, by=owner)
    with pytest.raises(stock.NotInStock):
        stock.put_aside(job=JobFactory(), kind="movements", part=movement, by=owner)
    stock.settle(use=use, state="released", by=owner)
    assert stock.available(movement, "movements") == 1


def test_what_nobody_counted_cannot_be_put_aside(owner):
    with pytest.raises(stock.NotInStock, match="Recount, or order one"):
        stock.put_aside(job=JobFactory(), kind="movements", part=MovementFactory(), by=owner)


def test_putting_aside_twice_for_a_job_takes_one(owner):
    movement, job = MovementFactory(in_stock=3), JobFactory()
    first = stock.put_aside(job=job, kind="movements", part=movement, by=owner)
    assert stock.put_aside(job=job, kind="movements", part=movement, by=owner) == first
    assert stock.available(movement, "movements") == 2


def states(job):
    return [order.state for order in job.orders.order_by("pk")]


def test_what_is_put_aside_need_not_be_ordered_and_put_back_must(owner):
    """A crown of the same name and number is another part."""
    movement, job = MovementFactory(name="Ember", in_stock=1), JobFactory(waits_for="parts")
    for kind, text in (("movements", "New quartz movement: Ember"), ("crowns", "New crown: Ember")):
        Order.objects.create(job=job, text=text, kind=kind, part=movement.pk)
    use = stock.put_aside(job=job, kind="movements", part=movement, by=owner)
    assert states(job) == ["dropped", "wanted"]
    job.refresh_from_db()
    assert job.waits_for == "parts"
    stock.settle(use=use, state="released", by=owner)
    assert states(job) == ["wanted", "wanted"]


def test_what_is_ordered_already_stays_ordered(owner):
    movement, job = MovementFactory(name="Ember", in_stock=1), JobFactory()
    wanted = {"text": "New quartz movement: Ember", "kind": "movements", "part": movement.pk}
    Order.objects.create(job=job, state="ordered", **wanted)
    stock.put_aside(job=job, kind="movements", part=movement, by=owner)
    assert states(job) == ["ordered"]


def test_a_count_below_what_is_put_aside_leaves_nothing_free(owner):
    movement = MovementFactory(in_stock=2)
    for _ in range(2):
        stock.put_aside(job=JobFactory(), kind="movements", part=movement, by=owner)
    stock.count(kind="movements", part=movement, number=1, reason="one was dead", by=owner)
    with pytest.raises(stock.NotInStock):
        stock.put_aside(job=JobFactory(), kind="movements", part=movement, by=owner)


def test_a_part_used_after_a_count_of_none_leaves_none(owner):
    movement = MovementFactory(in_stock=1)
    use = stock.put_aside(job=JobFactory(), kind="movements", part=movement, by=owner)
    stock.count(kind="movements", part=movement, number=0, reason="looked again", by=owner)
    assert stock.settle(use=use, state="used", by=owner).state == "used"
    movement.refresh_from_db()
    assert movement.in_stock == 0


def test_a_part_that_left_the_library_can_still_be_settled(owner):
    movement = MovementFactory(in_stock=2)
    use = stock.put_aside(job=JobFactory(), kind="movements", part=movement, by=owner)
    movement.delete()
    assert stock.settle(use=use, state="used", by=owner).state == "used"


def test_a_count_keeps_its_reason(owner):
    movement = MovementFactory(in_stock=4)
    stock.count(kind="movements", part=movement, number=3, reason="one was dead", by=owner)
    movement.refresh_from_db()
    kept = StockCount.objects.get()
    assert (movement.in_stock, kept.before, kept.after, kept.reason) == (3, 4, 3, "one was dead")


def test_what_is_put_aside_of_one_kind_stays_free_of_another(owner):
    movement = MovementFactory(in_stock=2)
    crown = CrownFactory(pk=movement.pk, in_stock=2)
    stock.put_aside(job=JobFactory(), kind="crowns", part=crown, by=owner)
    assert (stock.available(movement, "movements"), stock.available(crown, "crowns")) == (2, 1)


@pytest.mark.django_db(transaction=True)
def test_the_last_one_goes_to_one_job_only(owner):
    movement, jobs = MovementFactory(in_stock=1), JobFactory.create_batch(6)

    def take(job):
        try:
            stock.put_aside(job=job, kind="movements", part=movement, by=owner)
            return True
        except stock.NotInStock:
            return False
        finally:
            connection.close()

    with ThreadPoolExecutor(6) as pool:
        assert sum(pool.map(take, jobs)) == 1
