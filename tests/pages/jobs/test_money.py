"""The pages of a job's money: payments, invoices, credit notes, and the papers that come of them."""

import datetime as dt
import re
from decimal import Decimal as D
from html import unescape

import pytest
from django.urls import reverse
from django.utils import timezone

from jobs.customers.erase import erase
from jobs.invoices import payments
from jobs.invoices.issuing import Buyer
from jobs.models import Customer, Invoice, Payment, Shop
from jobs.papers.making import paper_pdf
from jobs.papers.sending import send_credit, send_invoice
from tests.factories import JobFactory
from tests.jobs.invoices.conftest import agreed, shop  # noqa: F401 - a fixture
from tests.reading import pdf_words

pytestmark = pytest.mark.django_db
TODAY = timezone.localdate()


def url(name, job, *more):
    return reverse(f"jobs:{name}", args=[job.number, *more])


def words_of(page):
    return " ".join(unescape(re.sub(r"<[^>]*>", " ", page)).split())


def payment(**changes):
    return {"purpose": "deposit", "amount": "30", "on": f"{TODAY}", "how": "cash", "note": ""} | changes


def bill(**changes):
    dates = {"supplied": f"{TODAY}", "due_on": f"{TODAY + dt.timedelta(days=14)}"}
    return {"buyer_name": "Ottilie Reed", "buyer_address": "3 Weir Lane", "buyer_country": "ie"} | dates | changes


def text_of(paper):
    with paper.file.open() as opened:
        return pdf_words(opened.read())


def folded(client, job):
    """The words on the fold of the job's money, and whether it is open."""
    page = client.get(job.get_absolute_url()).text
    fold = page[page.index('<details class="fold" id="money"') :]
    return words_of(fold[: fold.index("</summary>")]).split("Money ")[-1], " open>" in fold[:60]


def test_the_fold_says_how_the_money_stands(owner_client, owner, shop):  # noqa: F811
    job = JobFactory()
    assert folded(owner_client, job) == ("nothing agreed yet", False)
    agreed(owner, job=job, deposit=D(30))
    assert folded(owner_client, job) == ("€87.40 owed", True)
    owner_client.post(url("payment-add", job), payment(amount="26,22"))
    assert folded(owner_client, job) == ("€61.18 still owed", False)
    owner_client.post(url("payment-add", job), payment(amount="61.18", purpose="balance"))
    assert folded(owner_client, job) == ("paid in full", False)
    page = owner_client.post(url("payment-add", job), payment(amount="1"), follow=True)
    assert "Payment saved. That is €1.00 more than the job comes to." in words_of(page.text)
    assert folded(owner_client, job) == ("€1.00 too much paid", True)
    owner_client.post(url("payment-undo", job, Payment.objects.last().pk))
    assert folded(owner_client, job) == ("paid in full", False)
    assert "€1.00, deposit, in cash" in words_of(owner_client.get(job.get_absolute_url()).text)


@pytest.mark.parametrize(
    ("typed", "said"),
    [
        ({"amount": ""}, "Fill this in."),
        ({"amount": "0"}, "0 is no payment. Enter the amount that changed hands."),
        ({"amount": "-4"}, "-4 is below 0."),
        ({"amount": "much"}, "“much” is not an amount."),
        ({"amount": "30", "purpose": "refund"}, "€30.00 cannot be paid back: €0.00 was received."),
        ({"on": f"{TODAY + dt.timedelta(days=1)}"}, "is in the future"),
    ],
)
def test_a_contradiction_is_refused_on_its_field_and_nothing_typed_is_lost(owner_client, shop, typed, said):  # noqa: F811
    page = owner_client.post(url("payment-add", JobFactory()), payment(note="from his son", **typed))
    assert page.status_code == 422
    assert said in words_of(page.text)
    assert 'value="from his son"' in page.text
    assert not Payment.objects.exists()


def test_the_next_payment_is_proposed(owner_client, owner, shop):  # noqa: F811
    job = agreed(owner, deposit=D(30)).job
    assert owner_client.get(url("payment-add", job)).context["form"].initial["amount"] == D("26.22")
    owner_client.post(url("payment-add", job), payment(amount="26.22"))
    form = owner_client.get(url("payment-add", job)).context["form"]
    assert (form.initial["purpose"], form.initial["amount"]) == ("balance", D("61.18"))


def test_an_invoice_is_issued_kept_and_credited(owner_client, owner, shop):  # noqa: F811
    job = agreed(owner).job
    assert "Make an invoice" in owner_client.get(job.get_absolute_url()).text
    page = owner_client.post(url("invoice-add", job), bill(), follow=True)
    number = f"{TODAY.year}-0001"
    assert f"Invoice {number} issued." in page.text
    invoice = Invoice.objects.get()
    assert url("payment-add", job) in page.text
    pdf, xml = invoice.papers.order_by("pk")
    text = text_of(pdf)
    said = (f"Invoice {number}", "Ottilie Reed", "IE1234567A", "Tax, 20 % of €72.83 €14.57", "Total €87.40")
    assert [words for words in said if words not in text] == []
    answer = owner_client.get(url("saved-paper", job, xml.pk))
    assert answer["Content-Type"] == "application/xml"
    assert number.encode() in b"".join(answer.streaming_content)
    assert "issued" in words_of(owner_client.get(url("invoice-add", job)).text)
    assert "A job has one invoice at a time." in words_of(owner_client.post(url("invoice-add", job), bill()).text)
    line = invoice.lines.last()
    page = owner_client.post(
        url("invoice-credit", job, invoice.pk), {"lines": [line.pk], "reason": "Returned"}, follow=True
    )
    note = Invoice.objects.get(kind="credit")
    assert f"Credit note {TODAY.year}-0002 issued." in page.text
    text = text_of(note.papers.get(kind="credit"))
    said = (f"Corrects Invoice {number}", "Reason Returned", "Credited €23.40", "set off against")
    assert [words for words in said if words not in text] == []
    page = words_of(owner_client.get(invoice.get_absolute_url()).text)
    assert f"credited by {note.number}" in page
    assert "€64.00" in folded(owner_client, job)[0]


@pytest.mark.parametrize(
    ("typed", "said"),
    [
        ({"due_on": f"{TODAY - dt.timedelta(days=1)}"}, "has passed: the invoice would be overdue at once"),
        ({"supplied": f"{TODAY + dt.timedelta(days=1)}"}, "is in the future"),
        ({"buyer_country": "zz"}, "ZZ is not a country code"),
        ({"buyer_name": ""}, "Fill this in."),
    ],
)
def test_an_invoice_that_cannot_be_is_refused_and_takes_no_number(owner_client, owner, shop, typed, said):  # noqa: F811
    job = agreed(owner).job
    page = owner_client.post(url("invoice-add", job), bill(**typed))
    assert (page.status_code, said in words_of(page.text)) == (422, True)
    owner_client.post(url("invoice-add", job), bill())
    assert Invoice.objects.get().number == f"{TODAY.year}-0001"


def test_a_credit_note_needs_lines_and_a_reason(owner_client, owner, shop):  # noqa: F811
    job = agreed(owner).job
    owner_client.post(url("invoice-add", job), bill())
    invoice = Invoice.objects.get()
    page = owner_client.post(url("invoice-credit", job, invoice.pk), {"reason": ""})
    assert page.status_code == 422
    assert "Tick the lines to credit." in page.text
    assert '<details class="fold" open>' in page.text


@pytest.mark.parametrize("key", [0, 2**63, 10**30, "x"])
def test_a_line_that_there_cannot_be_is_not_credited(owner_client, owner, shop, key):  # noqa: F811
    job = agreed(owner).job
    owner_client.post(url("invoice-add", job), bill())
    invoice = Invoice.objects.get()
    lines = [invoice.lines.first().pk, key]
    page = owner_client.post(url("invoice-credit", job, invoice.pk), {"lines": lines, "reason": "Returned"})
    assert (page.status_code, "field-errors" in page.text) == (422, True)
    assert Invoice.objects.count() == 1


def test_without_a_country_there_is_a_pdf_only_and_the_page_says_so(owner_client, owner, shop):  # noqa: F811
    Shop.objects.update(country="")
    job = agreed(owner).job
    assert "that needs your country, under Settings" in words_of(owner_client.get(url("invoice-add", job)).text)
    Shop.objects.update(tax_number="")
    needs = "that needs your country and your tax number, under Settings"
    assert needs in words_of(owner_client.get(url("invoice-add", job)).text)
    Shop.objects.update(country="IE")
    assert "that needs your tax number, under Settings" in words_of(owner_client.get(url("invoice-add", job)).text)
    page = owner_client.post(url("invoice-add", job), bill(), follow=True)
    assert "There is no electronic form of it: your tax number was missing when it was issued." in words_of(page.text)
    assert [paper.kind for paper in job.papers.all()] == ["invoice"]


def test_the_handover_note_says_what_was_paid_and_is_owed(owner, shop):  # noqa: F811
    job = agreed(owner).job
    payments.take(payment=Payment(job=job, amount=D(40), purpose="deposit", how="cash", on=TODAY), by=owner)

    def note(**more):
        return pdf_words(paper_pdf(job=job, kind="handover", address="", **more))

    assert "Agreed total €87.40 Paid €40.00 Still owed €47.40" in note(sees_money=True)
    assert "40.00" not in note()


def test_erasing_a_customer_keeps_invoices_as_they_were_issued_and_says_so(owner_client, owner, shop):  # noqa: F811
    job = agreed(owner).job
    buyer = Buyer("Ottilie Reed", "3 Weir Lane\nHollin Ferry", "IE")
    invoice = send_invoice(of=job, buyer=buyer, supplied=TODAY, due_on=TODAY, by=owner)
    send_credit(invoice=invoice, lines=[invoice.lines.first()], reason="Ottilie Reed said so", by=owner)
    job.state = "finished"
    job.save()
    page = words_of(owner_client.get(reverse("jobs:customer-erase", args=[job.customer_id])).text)
    assert "2 invoices and credit notes , with the name and address as they were issued" in page
    erase(customer=job.customer, by=owner, empty_texts=True)
    assert Customer.objects.get().is_erased
    kept = Invoice.objects.get(kind="invoice")
    assert (kept.buyer_name, kept.buyer_address) == ("Ottilie Reed", "3 Weir Lane\nHollin Ferry")
    assert "Ottilie Reed" in text_of(kept.papers.get(kind="invoice"))
    assert Invoice.objects.get(kind="credit").reason == "Ottilie Reed said so"
    assert all(paper.file for paper in job.papers.filter(invoice__isnull=False))
