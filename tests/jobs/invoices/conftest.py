"""An accepted quote to be paid and invoiced."""

from decimal import Decimal as D

import pytest
from django.utils import timezone

from jobs.models import QuoteLine, QuotePart, Shop
from jobs.quotes import versions
from tests.factories import JobFactory

LINES = (("Fit the new movement", "work", "64.00", "20"), ("New quartz movement", "part", "23.40", "20"))


@pytest.fixture
def shop(db):
    """A shop that may issue electronic invoices."""
    return Shop.objects.create(
        name="Weir Lane Watches", address="12 Weir Lane\nHollin Ferry", country="IE", tax_number="IE1234567A"
    )


def agreed(owner, lines=LINES, job=None, **terms):
    """An accepted quote of (text, kind, price, tax in percent)."""
    job = job or JobFactory(customer__name="Ottilie Reed", customer__address="3 Weir Lane\nHollin Ferry")
    quote = versions.empty_draft(job=job, by=owner)
    for name, value in terms.items():
        setattr(quote, name, value)
    quote.save()
    part = QuotePart.objects.create(quote=quote, title="Quartz")
    for place, (text, kind, price, tax) in enumerate(lines, start=1):
        QuoteLine.objects.create(part=part, text=text, kind=kind, price=D(price), tax_rate=D(tax), position=place)
    versions.send(quote=quote, by=owner)
    said = {"said_by": "Ottilie Reed", "how": "phone", "on": timezone.localdate(), "by": owner}
    return versions.accept(quote=quote, part=part, taken=set(), **said)
