"""A report as it was kept, whatever was measured since."""

import pytest
from django.urls import reverse

from jobs.options import choosing
from parts.models import Case
from tests.factories import JobFactory, PairingFactory

pytestmark = pytest.mark.django_db


def test_the_report_stays_as_it_was_computed(owner_client, owner):
    job = JobFactory()
    option = choosing.add_option(job=job, pairing=PairingFactory(), by=owner)
    Case.objects.update(back_depth=3.70)
    kept = option.reports.get()
    text = owner_client.get(reverse("jobs:saved-report", args=[job.number, kept.pk])).text
    assert "Fits with work" in text
    assert "0.30 mm of clearance to the case back." in text
    assert "Does not fit" not in text


def test_a_report_of_another_job_is_not_found(owner_client, owner):
    option = choosing.add_option(job=JobFactory(), pairing=PairingFactory(), by=owner)
    other = JobFactory()
    assert (
        owner_client.get(reverse("jobs:saved-report", args=[other.number, option.reports.get().pk])).status_code == 404
    )
