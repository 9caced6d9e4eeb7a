"""The money of a holder order: paid, invoiced in the one series of numbers, credited, given out and kept."""

import datetime as dt
import json
import zipfile
from decimal import Decimal as D
from xml.etree import ElementTree as ET

import pytest
from django.db import IntegrityError, transaction
from django.urls import reverse
from django.utils import timezone

from jobs.customers.erase import erase
from jobs.customers.personal_data import held, personal_file
from jobs.holder_orders import steps
from jobs.invoices.account import saved_account
from jobs.invoices.issuing import Buyer, issue
from jobs.invoices.payments import Contradiction
from jobs.models import Invoice, PaperOut, Payment, Shop
from tests.factories import JobFactory
from tests.jobs.invoices.conftest import agreed, shop  # noqa: F401 - a fixture
from tests.jobs.invoices.test_electronic import CBC, by_schema, judge  # noqa: F401 - a fixture
from tests.reading import pdf_words

pytestmark = pytest.mark.django_db
TODAY = timezone.localdate()
YEAR = TODAY.year
DUE = TODAY + dt.timedelta(days=14)
BUYER = Buyer("Oda Fenwright", "4 Kiln Row", "DE")


@pytest.fixture
def priced(order, shop):  # noqa: F811
    """Two pieces at 12.50 with 19 % in it."""
    Shop.objects.update(tax_rate=D(19), how_to_pay="By transfer.")
    order.price_each = D("12.50")
    order.save()
    return order


def at(name, order, *keys):
    return reverse(f"jobs:holder-order-{name}", args=[order.pk, *keys])


def bill(**changes):
    to = {"buyer_name": "Oda Fenwright", "buyer_address": "4 Kiln Row", "buyer_country": "de", "language": "de"}
    return to | {"supplied": f"{TODAY}", "due_on": f"{DUE}", "tax_rate": "19", "postage": ""} | changes


def test_an_order_is_paid_and_invoiced_as_a_job_is(owner_client, priced):
    page = owner_client.get(priced.get_absolute_url()).text
    assert "€25.00 owed" in " ".join(page.split())
    paid = {"purpose": "deposit", "amount": "10", "on": f"{TODAY}", "how": "card", "note": "by post"}
    owner_client.post(at("payment-add", priced), paid)
    assert saved_account(priced).owed == D(15)
    page = owner_client.post(at("invoice-add", priced), bill(postage="4,90"), follow=True)
    invoice = Invoice.objects.get()
    assert (invoice.number, invoice.total, invoice.prepaid, invoice.due) == (f"{YEAR}-0001", D("29.90"), 10, D("19.90"))
    assert (invoice.net, invoice.tax) == (D("25.13"), D("4.77"))
    assert [(line.quantity, line.price, line.tax_rate) for line in invoice.lines.all()] == [
        (2, D("25.00"), 19),
        (1, D("4.90"), 19),
    ]
    assert f"Invoice {YEAR}-0001 issued" in page.text
    assert saved_account(priced).owed == D("19.90")
    page = owner_client.get(priced.get_absolute_url()).text
    assert invoice.get_absolute_url() in page
    assert "Make an invoice" not in page


def test_the_paper_is_in_the_customers_language_and_kept_with_the_order(owner_client, priced):
    owner_client.post(at("invoice-add", priced), bill())
    paper = PaperOut.objects.get(kind="invoice")
    assert (paper.holder_order, paper.job) == (priced, None)
    response = owner_client.get(at("saved-paper", priced, paper.pk))
    words = pdf_words(b"".join(response.streaming_content))
    assert f"Rechnung {YEAR}-0001" in words
    assert f"Bestellung {priced.pk} vom" in words
    assert "2 × Werkhaltering für Kelpmoor 38 mit Wick slim, Ausführung 1; tough filament, black" in words
    assert "je 12,50 €" in words
    assert "Uhr " not in words


def test_its_electronic_form_counts_the_pieces_and_follows_the_standard(owner_client, priced, judge):  # noqa: F811
    owner_client.post(at("invoice-add", priced), bill(postage="4.90"))
    owner_client.post(
        at("invoice-credit", priced, Invoice.objects.get().pk),
        {"lines": [Invoice.objects.get().lines.first().pk], "reason": "Too loose"},
    )
    xmls = [paper.file.open().read() for paper in PaperOut.objects.filter(kind="e-form").order_by("pk")]
    for xml, name in zip(xmls, ("InvoicedQuantity", "CreditedQuantity"), strict=True):
        assert by_schema(xml) == []
        assert judge(xml) == set()
        line = next(ET.fromstring(xml).iter(f"{CBC}{name}"))
        assert (line.text, next(ET.fromstring(xml).iter(f"{CBC}BaseQuantity")).text) == ("2", "2")


def test_jobs_and_orders_share_one_series_without_gaps(owner, priced):
    job = JobFactory()
    agreed(owner, job=job)
    priced.price_each = None
    priced.save()
    said = {"buyer": BUYER, "supplied": TODAY, "due_on": DUE, "by": owner}
    with pytest.raises(Contradiction, match="no price yet"):
        issue(of=priced, **said)
    priced.price_each = D(3)
    assert [issue(of=each, **said).number for each in (job, priced)] == [f"{YEAR}-0001", f"{YEAR}-0002"]
    with pytest.raises(Contradiction, match="0002 is issued for this order"):
        issue(of=priced, **said)


def test_what_is_invoiced_is_neither_changed_nor_cancelled_before_it_is_credited(owner_client, owner, priced):
    invoice = issue(of=priced, buyer=BUYER, supplied=TODAY, due_on=DUE, by=owner)
    owner_client.post(at("edit", priced), {"design": priced.design_id, "count": "9", "remark": "in two bags"})
    priced.refresh_from_db()
    assert (priced.count, priced.remark) == (2, "in two bags")
    with pytest.raises(steps.NotNow, match="Issue a credit note"):
        steps.cancel(order=priced, reason="x")
    line = invoice.lines.get()
    owner_client.post(at("invoice-credit", priced, invoice.pk), {"lines": [line.pk], "reason": "not wanted"})
    assert saved_account(priced).total == 0
    assert steps.cancel(order=priced, reason="x").state == "cancelled"


def test_money_paid_for_a_cancelled_order_is_to_be_paid_back(owner_client, priced):
    paid = {"purpose": "balance", "amount": "25", "on": f"{TODAY}", "how": "cash", "note": ""}
    owner_client.post(at("payment-add", priced), paid)
    steps.cancel(order=priced, reason="x")
    assert "€25.00 too much paid" in " ".join(owner_client.get(priced.get_absolute_url()).text.split())
    owner_client.post(at("payment-undo", priced, Payment.objects.get().pk))
    assert Payment.objects.get().undone


@pytest.mark.parametrize(
    ("typed", "field"),
    [({"tax_rate": "101"}, "tax_rate"), ({"postage": "-1"}, "postage"), ({"due_on": "2020-01-01"}, "due_on")],
)
def test_bad_input_is_refused_on_its_field(owner_client, priced, typed, field):
    page = owner_client.post(at("invoice-add", priced), bill(**typed))
    assert page.status_code == 422
    assert page.context["form"].errors.keys() == {field}
    assert not Invoice.objects.exists()


def test_an_order_without_a_price_leads_to_its_price(owner_client, order):
    page = owner_client.get(at("invoice-add", order)).text
    assert "These pieces have no price yet" in page
    assert order.get_absolute_url() in page


def test_money_belongs_to_a_job_or_an_order_never_to_both_or_none(owner, order):
    facts = {"on": TODAY, "amount": 1, "currency": "EUR", "how": "cash", "purpose": "other", "by": owner}
    for both in ({}, {"job": JobFactory(), "holder_order": order}):
        with pytest.raises(IntegrityError), transaction.atomic():
            Payment.objects.create(**facts, **both)


def test_who_sees_no_money_sees_none_of_it(hand, owner_client, priced):
    owner_client.post(at("invoice-add", priced), bill())
    page = hand.get(priced.get_absolute_url()).text
    assert "Money" not in page
    assert "25.00" not in page
    paper = PaperOut.objects.get(kind="invoice")
    assert hand.get(at("saved-paper", priced, paper.pk)).status_code == 403
    assert hand.get(at("invoice", priced, Invoice.objects.get().pk)).status_code == 403


def test_it_is_given_out_with_the_customers_data_and_kept_when_they_are_erased(owner_client, owner, priced):
    owner_client.post(at("invoice-add", priced), bill())
    owner_client.post(
        at("payment-add", priced), {"purpose": "balance", "amount": "5", "on": f"{TODAY}", "how": "cash", "note": "Oda"}
    )
    customer = priced.customer
    assert held(customer)["invoices"] == 1
    archive = zipfile.ZipFile(personal_file(customer))
    for table, number in (("invoice", 1), ("invoiceline", 1), ("invoicetax", 1), ("payment", 1), ("paperout", 2)):
        assert len(json.loads(archive.read(f"json/{table}.json"))) == number
    priced.state = "sent"
    priced.save()
    erase(customer=customer, by=owner, empty_texts=True)
    assert Invoice.objects.get().buyer_name == "Oda Fenwright"
    assert all(paper.file for paper in PaperOut.objects.all())
    assert Payment.objects.get().note == ""
