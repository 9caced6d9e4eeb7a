"""Jobs whose watches have gone home with a quartz movement."""

import datetime as dt

import pytest
from django.utils import timezone

from jobs.models import Event, Job, Option
from tests.factories import JobFactory, PairingFactory


@pytest.fixture
def gone_home(owner):
    """Make a finished job, its watch handed over on a day; the rest is of its movement."""

    def make(day, *, customer=None, **movement):
        facts = {"kind": "quartz", "cell_capacity": 45.0, "current": 1.5} | movement
        pairing = PairingFactory(**{f"movement__{name}": value for name, value in facts.items()})
        job = JobFactory(state=Job.State.FINISHED, **({"customer": customer} if customer else {}))
        Option.objects.create(job=job, pairing=pairing, chosen=True)
        closed = Event.objects.create(job=job, by=owner, kind=Event.Kind.CLOSED, data={"state": "finished"})
        noon = timezone.make_aware(dt.datetime.combine(day, dt.time(12)))
        Event.objects.filter(pk=closed.pk).update(at=noon)
        return job

    return make
