"""Money, put wherever the workshop keeps any: the owner sees it, nobody else does."""

from decimal import Decimal

import pytest
from django.utils import timezone
from PIL import Image

from jobs.history import record
from jobs.invoices import payments
from jobs.invoices.issuing import Buyer
from jobs.models import Event, PaperOut, Payment, Shop
from jobs.options import choosing
from jobs.papers.making import keep_paper
from jobs.papers.sending import send_credit, send_invoice
from jobs.photos.storing import store_signed
from jobs.quotes import versions
from parts.tools.papers import maker
from parts.tools.pictures import as_kept
from tests.factories import JobFactory, PairingFactory
from tests.reading import as_read
from tests.workshop.requests.test_every_url import ALL
from workshop.accounts.roles import Role
from workshop.requests.access import rule_of

pytestmark = [pytest.mark.django_db, pytest.mark.alike]
SUMS = ("73190", "84230", "65470", "91730", "58610", "14730")
"""Fee, hourly rate, a line's price, a line's cost, what the fee was before, a payment."""


@pytest.fixture
def job(owner):
    """A job with money in every place: fee, its change, priced and sent quote, papers, signed quote, shop."""
    shop = Shop.current()
    shop.hourly_rate, shop.currency = Decimal(84230), "EUR"
    shop.save()
    job = JobFactory(number="26-001", diagnosis_fee=Decimal(73190))
    option = choosing.add_option(job=job, pairing=PairingFactory(), by=owner)
    choosing.choose(option=option, by=owner)
    fee = {"field": "diagnosis_fee", "before": "58610.00", "after": "73190.00"}
    record(job=job, by=owner, kind=Event.Kind.CHANGED, data=fee)
    quote = versions.propose(job=job, options=[option], by=owner)
    quote.parts.get().lines.exclude(kind="accept").update(price=Decimal(65470), cost=Decimal(91730))
    versions.send(quote=quote, by=owner)
    for kind, more in (("receipt", {}), ("quote", {"quote": quote}), ("sheet", {}), ("handover", {})):
        keep_paper(job=job, kind=kind, address="http://x/", by=owner, sees_money=True, **more)
    store_signed(quote=quote, picture=as_kept(Image.new("RGB", (9, 9))), by=owner)
    return job


@pytest.fixture
def billed(job, owner):
    """The same with the quote accepted, a payment of 14730, and an invoice and a credit note over lines of 65470."""
    Shop.objects.update(name="Weir Lane Watches", address="12 Weir Lane", country="IE", tax_number="IE1234567A")
    quote, today = job.quotes.get(), timezone.localdate()
    said = {"said_by": "x", "how": "phone", "on": today, "by": owner}
    versions.accept(quote=quote, part=quote.parts.get(), taken=set(), **said)
    paid = Payment(job=job, amount=Decimal(14730), on=today, purpose="deposit", how="cash")
    payments.take(payment=paid, by=owner)
    to = {"buyer": Buyer("x", "y", "IE"), "supplied": today, "due_on": today}
    invoice = send_invoice(of=job, by=owner, **to)
    send_credit(invoice=invoice, lines=[invoice.lines.first()], reason="x", by=owner)
    keep_paper(job=job, kind="handover", address="http://x/", by=owner, sees_money=True)
    return job


@pytest.fixture(autouse=True)
def papers_as_markup(monkeypatch):
    """Papers stay the markup that they are made from: no sum stands in a paper that does not stand there."""
    own = maker.pdf
    monkeypatch.setattr(
        maker, "pdf", lambda markup, *given, tagged=False: markup.encode() if tagged else own(markup, *given)
    )


def words(response):
    """What a response says, also where it is a paper."""
    content = b"".join(response.streaming_content) if response.streaming else response.content
    return content.decode(errors="replace")


def told(client, address):
    said = words(client.get(address, follow=True)).replace(",", "")
    return {one for one in SUMS if one in said}


def all_addresses(job):
    """The addresses of the map, and those of this job's own records."""
    place = f"/jobs/{job.number}"
    yield from (url for name, url in ALL if rule_of(name).look <= Role.BENCH)
    yield from (f"{place}/papers/kept/{one.pk}/" for one in job.papers.all())
    yield from (f"{place}/{stage.kind}/" for stage in job.stages.all())
    yield from ("/past/?q=sent", "/past/?q=diagnosis", f"/jobs/log/?like={job.number}", f"{place}/outcome/")
    yield from ("/jobs/?q=26", "/search/?q=26", f"/customers/{job.customer_id}/", f"{place}/history/", f"{place}/edit/")


def test_the_owner_sees_all_of_it(owner_client, job):
    assert told(owner_client, "/jobs/26-001/") == {"73190", "58610"}
    assert told(owner_client, "/jobs/26-001/quotes/1/") == {"65470"}
    assert told(owner_client, "/shop/") == {"84230"}
    assert told(owner_client, "/jobs/26-001/edit/") == {"73190"}
    papers = {one.kind: told(owner_client, f"/jobs/26-001/papers/kept/{one.pk}/") for one in job.papers.all()}
    assert papers == {"receipt": {"73190"}, "quote": {"65470"}, "sheet": set(), "handover": set()}


@pytest.mark.parametrize("who", ["hand", "reader"])
def test_no_page_that_they_can_open_tells_any_of_it(request, job, who):
    client = request.getfixturevalue(who)
    shown = {address: told(client, address) for address in all_addresses(job)}
    assert len(shown) > 70
    assert {address: found for address, found in shown.items() if found} == {}


def test_the_owner_sees_what_was_paid_and_invoiced(owner_client, billed):
    assert told(owner_client, "/jobs/26-001/") == {"73190", "58610", "14730", "65470"}
    first, second = billed.invoices.all()
    assert told(owner_client, first.get_absolute_url()) == {"65470", "14730"}
    assert told(owner_client, second.get_absolute_url()) == {"65470"}


@pytest.mark.parametrize("who", ["hand", "reader"])
def test_of_payments_and_invoices_they_see_nothing(request, billed, who):
    client = request.getfixturevalue(who)
    shown = {address: told(client, address) for address in all_addresses(billed)}
    assert {address: sums for address, sums in shown.items() if sums} == {}
    page = client.get("/jobs/26-001/").text
    assert [word for word in ("Note a payment", "Make an invoice", 'id="money"', "/invoices/") if word in page] == []
    papers = [client.get(f"/jobs/26-001/papers/kept/{paper.pk}/") for paper in billed.papers.exclude(invoice=None)]
    assert [answer.status_code for answer in papers] == [403] * 4
    assert [client.get(invoice.get_absolute_url()).status_code for invoice in billed.invoices.all()] == [403, 403]
    for name, sent in (("payments/add", {"amount": 1}), ("invoices/add", {}), ("invoices/1/credit", {})):
        assert client.post(f"/jobs/26-001/{name}/", sent).status_code == 403


@pytest.mark.parametrize("who", ["hand", "reader"])
def test_quotes_and_papers_with_money_are_closed_the_others_open(request, job, who):
    client = request.getfixturevalue(who)
    assert client.get("/jobs/26-001/quotes/1/").status_code == 403
    answers = {one.kind: client.get(f"/jobs/26-001/papers/kept/{one.pk}/").status_code for one in job.papers.all()}
    assert answers == {"receipt": 403, "quote": 403, "sheet": 200, "handover": 403}
    page = client.get("/jobs/26-001/").text
    assert ("Quotes" in page, "Parts to buy" in page, "Job sheet" in page) == (False, True, True)
    assert client.get(f"/jobs/26-001/photos/{job.photos.get().pk}/").status_code == 403
    assert client.get(f"/jobs/26-001/photos/{job.photos.get().pk}/small/").status_code == 403
    assert "Signed: version" not in as_read(client.get("/jobs/26-001/").text).replace(
        "Photo added</b>: Signed: version", ""
    )


def test_a_bench_hand_prints_a_receipt_without_the_fee_and_no_quote(hand, job):
    made = hand.post("/jobs/26-001/papers/receipt/", follow=True)
    assert made.status_code == 200
    assert "Receipt for your watch, job 26-001" in words(made)
    assert "73190" not in words(hand.get(made.request["PATH_INFO"])).replace(",", "")
    assert hand.post("/jobs/26-001/papers/quote/?version=1").status_code == 403
    assert PaperOut.objects.filter(kind="quote").count() == 1


def test_a_bench_hands_change_leaves_the_fee_as_it_is(hand, job):
    typed = {"wish": "Two hands are enough.", "luminous": "none", "diagnosis_fee": "1"}
    assert hand.post("/jobs/26-001/edit/", typed).status_code == 302
    job.refresh_from_db()
    assert (job.wish, job.diagnosis_fee) == ("Two hands are enough.", Decimal("73190.00"))


def test_a_bench_hand_logs_a_watch_but_sets_no_fee(hand):
    typed = {"customer": "Ottilie Reed", "phone": "555 0101", "wish": "Runs again.", "luminous": "none"}
    page = hand.get("/jobs/log/").text
    assert "diagnosis" not in page
    made = hand.post("/jobs/log/", typed | {"diagnosis_fee": "73190"}, follow=True)
    job = made.context["job"]
    assert (job.wish, job.diagnosis_fee) == ("Runs again.", None)


def test_the_navigation_leads_nowhere_that_is_closed(hand, reader, owner_client):
    for client, last in ((hand, "Bench rules"), (reader, "Bench rules"), (owner_client, "Settings")):
        context = client.get("/").context
        entries = [*context["navigation"], *context["navigation_more"]]
        assert entries[-1][0] == last
        assert {client.get(url).status_code for _, url in entries} == {200}
