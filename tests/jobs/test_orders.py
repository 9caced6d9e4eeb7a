"""Parts to buy, and what the job waits for."""

import pytest

from jobs.models import Order
from jobs.orders import save_order
from tests.factories import JobFactory

pytestmark = pytest.mark.django_db


def waiting(*jobs):
    for job in jobs:
        job.refresh_from_db()
    return [job.waits_for for job in jobs]


def test_only_the_job_whose_last_part_came_stops_waiting_for_parts(owner):
    job, other = JobFactory.create_batch(2, waits_for="parts")
    stem, crown = (Order.objects.create(job=job, text=text) for text in ("a stem", "a crown"))
    for order, left in ((stem, ["parts", "parts"]), (crown, ["me", "parts"])):
        order.state = Order.State.ARRIVED
        save_order(order=order, by=owner)
        assert waiting(job, other) == left


def test_a_job_that_waits_for_its_customer_goes_on_doing_so(owner):
    job = JobFactory(waits_for="customer")
    save_order(order=Order(job=job, text="a stem", state=Order.State.ARRIVED), by=owner)
    assert waiting(job) == ["customer"]
