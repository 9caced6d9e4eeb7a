"""Payments, invoices and credit notes: numbers without gaps, nothing changed once issued, what is owed."""

import datetime as dt
from concurrent.futures import ThreadPoolExecutor
from decimal import Decimal as D
from threading import Barrier

import pytest
from django.db import connection, transaction
from django.utils import timezone

from jobs.invoices import payments
from jobs.invoices.account import saved_account
from jobs.invoices.issuing import Buyer, credit, issue
from jobs.invoices.payments import Contradiction
from jobs.models import Invoice, InvoiceLine, Payment, Shop
from jobs.models.invoice import Unchangeable
from jobs.papers.sending import send_credit, send_invoice
from jobs.quotes import versions
from tests.factories import JobFactory
from tests.jobs.invoices.conftest import agreed

pytestmark = pytest.mark.django_db
TODAY = timezone.localdate()
YEAR = TODAY.year
DUE = TODAY + dt.timedelta(days=14)
BUYER = Buyer("Ottilie Reed", "3 Weir Lane", "IE")


def issued(owner, job):
    return issue(of=job, buyer=BUYER, supplied=TODAY, due_on=DUE, by=owner)


def paid(owner, job, amount, purpose="deposit"):
    return payments.take(payment=Payment(job=job, amount=D(amount), purpose=purpose, how="cash", on=TODAY), by=owner)


def test_what_is_owed_follows_what_is_agreed_paid_and_invoiced(owner, shop):
    job = JobFactory()
    assert (saved_account(job).total, saved_account(job).owed) == (None, None)
    paid(owner, job, 20)
    agreed(owner, job=job, deposit=D(30), tax_inclusive=True)
    account = saved_account(job)
    assert (account.total, account.deposit, account.deposit_owed, account.owed) == (
        D("87.40"), D("26.22"), D("6.22"), D("67.40"),
    )  # fmt: skip
    invoice = issued(owner, job)
    assert (invoice.prepaid, invoice.due) == (D(20), D("67.40"))
    last = paid(owner, job, "67.40", "balance")
    assert (saved_account(job).owed, saved_account(job).deposit_owed) == (0, 0)
    credit(invoice=invoice, lines=[invoice.lines.last()], reason="Movement returned", by=owner)
    assert saved_account(job).too_much == D("23.40")
    payments.undo(payment=last, by=owner)
    assert (saved_account(job).owed, job.payments.count()) == (D("44.00"), 2)


def test_more_is_not_paid_back_than_was_received(owner, shop):
    job = JobFactory()
    first = paid(owner, job, 20)
    with pytest.raises(Contradiction, match="cannot be paid back: €20.00 was received"):
        paid(owner, job, "20.01", "refund")
    paid(owner, job, 5, "refund")
    with pytest.raises(Contradiction, match="Undo what was paid back first"):
        payments.undo(payment=first, by=owner)
    assert saved_account(job).paid == D(15)


def test_a_payment_in_another_currency_is_told_not_counted(owner, shop):
    job = JobFactory()
    paid(owner, job, 20)
    agreed(owner, job=job, currency="GBP")
    account = saved_account(job)
    assert (account.currency, account.paid, [payment.amount for payment in account.elsewhere]) == ("GBP", 0, [D(20)])


def test_an_issued_invoice_is_neither_changed_nor_deleted(owner, shop):
    invoice = issued(owner, agreed(owner).job)
    invoice.buyer_name = "Somebody else"
    for record in (invoice, invoice.lines.first(), invoice.taxes.first()):
        with pytest.raises(Unchangeable, match="Correct it with a credit note"):
            record.save()
        with pytest.raises(Unchangeable):
            record.delete()
    Shop.objects.update(name="New name")
    invoice.job.customer.name = "Married name"
    invoice.job.customer.save()
    kept = Invoice.objects.get()
    assert (kept.buyer_name, kept.seller_name) == ("Ottilie Reed", "Weir Lane Watches")


def test_a_job_has_one_invoice_until_all_of_it_is_credited(owner, shop):
    quote = agreed(owner)
    invoice = issued(owner, quote.job)
    with pytest.raises(Contradiction, match=f"Invoice {YEAR}-0001 is issued for this job"):
        issued(owner, quote.job)
    with pytest.raises(versions.Frozen, match="rests on this answer"):
        versions.undo_answer(quote=quote, by=owner)
    first, second = invoice.lines.all()
    note = credit(invoice=invoice, lines=[first], reason="Done again", by=owner)
    with pytest.raises(Contradiction, match="Credited already: Fit the new movement"):
        credit(invoice=invoice, lines=[first, second], reason="Twice", by=owner)
    with pytest.raises(Contradiction, match="A credit note is not credited"):
        credit(invoice=note, lines=list(note.lines.all()), reason="Back", by=owner)
    with pytest.raises(Contradiction, match="is issued for this job"):
        issued(owner, quote.job)
    credit(invoice=invoice, lines=[second], reason="And the rest", by=owner)
    assert saved_account(quote.job).total == 0
    assert issued(owner, quote.job).number == f"{YEAR}-0004"


def test_without_an_agreement_or_a_letterhead_there_is_no_invoice(owner, shop):
    with pytest.raises(Contradiction, match="Nothing is agreed yet"):
        issued(owner, JobFactory())
    with pytest.raises(Contradiction, match="no work and no parts to invoice"):
        issued(owner, agreed(owner, [("The date sits low", "accept", "0", "0")]).job)
    Shop.objects.update(address="")
    with pytest.raises(Contradiction, match="names your shop and its address"):
        issued(owner, agreed(owner).job)


def test_series_begin_where_the_shop_says_and_credit_notes_may_have_their_own(owner, shop):
    Shop.objects.update(invoice_prefix="R{year}/", invoice_start=147, credit_prefix="C-")
    invoice = issued(owner, agreed(owner).job)
    note = credit(invoice=invoice, lines=list(invoice.lines.all()), reason="All", by=owner)
    Shop.objects.update(invoice_start=900)
    assert [invoice.number, note.number, issued(owner, invoice.job).number] == [
        f"R{YEAR}/0147", "C-0147", f"R{YEAR}/0148",
    ]  # fmt: skip


def test_an_invoice_that_fails_leaves_no_gap(owner, shop, monkeypatch):
    first, second = (agreed(owner).job for _ in range(2))
    monkeypatch.setattr("jobs.papers.invoice.ubl", lambda invoice: 1 / 0)
    with pytest.raises(ZeroDivisionError):
        send_invoice(of=first, buyer=BUYER, supplied=TODAY, due_on=DUE, by=owner)
    monkeypatch.undo()
    made = send_invoice(of=second, buyer=BUYER, supplied=TODAY, due_on=DUE, by=owner)
    assert made.number == f"{YEAR}-0001"


@pytest.mark.django_db(transaction=True)
def test_invoices_of_the_same_instant_have_numbers_without_gap_or_double(owner, shop):
    jobs = [agreed(owner).job for _ in range(6)]
    start = Barrier(len(jobs))

    def make(job):
        start.wait()
        try:
            with transaction.atomic():
                number = issued(owner, job).number
                if job == jobs[0]:
                    raise ZeroDivisionError
                return number
        except ZeroDivisionError:
            return ""
        finally:
            connection.close()

    with ThreadPoolExecutor(len(jobs)) as pool:
        numbers = list(pool.map(make, jobs))
    assert sorted(filter(None, numbers)) == [f"{YEAR}-{place:04d}" for place in range(1, 6)]


@pytest.mark.django_db(transaction=True)
def test_two_windows_make_one_invoice_and_one_credit_note_of_a_line(owner, shop):
    job = agreed(owner).job
    start = Barrier(2)

    def twice(act):
        def attempt(_):
            start.wait()
            try:
                return bool(act())
            except Contradiction:
                return False
            finally:
                connection.close()

        with ThreadPoolExecutor(2) as pool:
            return sorted(pool.map(attempt, range(2)))

    assert twice(lambda: issued(owner, job)) == [False, True]
    invoice, lines = Invoice.objects.get(), list(InvoiceLine.objects.all())
    assert twice(lambda: credit(invoice=invoice, lines=lines, reason="x", by=owner)) == [False, True]


def test_both_are_kept_as_pdf_and_electronically(owner, shop):
    job = agreed(owner).job
    invoice = send_invoice(of=job, buyer=BUYER, supplied=TODAY, due_on=DUE, by=owner)
    send_credit(invoice=invoice, lines=list(invoice.lines.all()), reason="All", by=owner)
    assert [(paper.kind, paper.invoice.kind) for paper in job.papers.order_by("pk")] == [
        ("invoice", "invoice"),
        ("e-form", "invoice"),
        ("credit", "credit"),
        ("e-form", "credit"),
    ]
    assert all(paper.has_money for paper in job.papers.all())
