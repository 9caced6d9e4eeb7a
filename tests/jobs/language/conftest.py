"""A job with everything that customers' papers can say."""

from datetime import timedelta
from decimal import Decimal as D

import pytest
from django.utils import timezone
from PIL import Image

from jobs.invoices.issuing import Buyer
from jobs.models import QuoteLine, Shop, Stage
from jobs.options import choosing
from jobs.papers.sending import send_credit, send_invoice
from jobs.photos.storing import store_pictures
from jobs.quotes import versions
from jobs.timing import timing_runs
from parts.tools.pictures import as_kept
from tests.factories import DialFactory, JobFactory, MovementFactory, PairingFactory


@pytest.fixture
def shop(db):
    """A shop that may issue electronic invoices; its own texts are those that every shop begins with."""
    return Shop.objects.create(
        name="Weir Lane",
        address="12 Weir Lane\nHollin Ferry",
        country="IE",
        tax_number="IE1234567A",
        tax_rate=20,
        deposit=30,
        hourly_rate=64,
    )


@pytest.fixture
def whole_job(shop, owner):
    """Makes a job in a customer's language: looked at, timed, quoted, accepted."""

    def make(language):
        job = JobFactory(
            customer__name="Q. Zorn",
            customer__language=language,
            customer__address="3 Weir Lane",
            watch="Wxyz 7",
            wish="12345",
            serial="A-1187",
            luminous="aged",
            promised=timezone.localdate() + timedelta(days=9),
            declared_value=D("1234.5"),
            case_family=None,
        )
        job.conditions.all().delete()
        for subject, finding in (("crystal", "worn"), ("runs", "yes"), ("dial", "good"), ("crown", "missing")):
            job.conditions.create(subject=subject, finding=finding)
        dial, movement = DialFactory(dated=True), MovementFactory(dated=True)
        pairing = PairingFactory(dial=dial, movement=movement, case__bore_diameter=28.0)
        option = choosing.add_option(job=job, pairing=pairing, by=owner)
        choosing.choose(option=option, by=owner)
        store_pictures(job=job, pictures=[as_kept(Image.new("RGB", (60, 40), "grey"))] * 9, by=owner)
        store_pictures(job=job, pictures=[as_kept(Image.new("RGB", (60, 40), "grey"))], by=owner, stage="hands")
        _time(job, owner)
        return job

    return make


def _time(job, owner):
    run = timing_runs.start_run(job=job, by=owner, bench_temperature=25.0)
    for day in range(5):
        at = timezone.now() - timedelta(days=4 - day)
        timing_runs.add_reading(run=run, at=at, offset_s=-0.3 * day + 0.02 * (day % 2), how="tap")


@pytest.fixture
def quoted(whole_job, owner):
    """Makes a sent quote in a customer's language, two options of it, with an extra and a line to accept."""

    def make(language):
        job = whole_job(language)
        first = choosing.chosen_option(job)
        other = PairingFactory(movement=MovementFactory(kind="mechanical"), dial=first.pairing.dial)
        second = choosing.add_option(job=job, pairing=other, by=owner)
        quote = versions.propose(job=job, options=[first, second], by=owner)
        for part in quote.parts.all():
            part.lines.filter(price=None).exclude(kind="accept").update(price=D("1234.50"))
            last = part.lines.exclude(kind="accept").last()
            last.optional = True
            last.save()
        quote.discount = D("2.5")
        quote.save()
        return versions.send(quote=quote, by=owner)

    return make


@pytest.fixture
def accepted(quoted, owner):
    """Makes a job whose quote is accepted, all its stages done."""

    def make(language):
        quote = quoted(language)
        part = quote.parts.first()
        taken = {line.pk for line in QuoteLine.objects.filter(part=part)}
        said = {"said_by": "Q. Zorn", "how": "phone", "on": timezone.localdate(), "by": owner}
        versions.accept(quote=quote, part=part, taken=taken, **said)
        job = quote.job
        job.stages.exclude(kind="handover").update(state=Stage.State.DONE)
        job.stages.filter(kind="handover").update(pressure_bar=D("3.5"))
        return job

    return make


@pytest.fixture
def invoiced(accepted, owner):
    """Makes an invoice and a credit note over one line of it."""

    def make(language):
        job = accepted(language)
        today = timezone.localdate()
        invoice = send_invoice(
            of=job,
            buyer=Buyer("Q. Zorn", "3 Weir Lane", "IE"),
            supplied=today,
            due_on=today + timedelta(days=14),
            by=owner,
        )
        credit = send_credit(invoice=invoice, lines=[invoice.lines.first()], reason="98765", by=owner)
        return invoice, credit

    return make
