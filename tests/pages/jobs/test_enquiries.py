"""Enquiries: taken down from a message, answered, turned into a job, closed; and erased with their customer."""

from datetime import timedelta
from decimal import Decimal
from email.message import EmailMessage

import pytest
from django.urls import reverse
from django.utils import timezone

from jobs.customers.erase import erase
from jobs.enquiries.reading import read
from jobs.intake.who import picked
from jobs.models import Customer, Enquiry, Job, Shop, WindowEntry
from tests.factories import CaseFamilyFactory, CustomerFactory, JobFactory
from tests.reading import as_read, pdf_pages

pytestmark = pytest.mark.django_db
MESSAGE = """From: Oda Fenwright <oda@fen.example>
Subject: About A grey dial, {code}

Hello, I have one just like this.
Would quartz go in? Ring me at +49 30 1234567.
"""


@pytest.fixture
def entry(owner):
    family = CaseFamilyFactory(name="Kelpmoor 38")
    return WindowEntry.objects.create(job=JobFactory(), title="A grey dial", family=family, by=owner)


@pytest.fixture
def enquiry(owner):
    customer = CustomerFactory(name="Oda Fenwright", email="oda@fen.example", language="de")
    return Enquiry.objects.create(customer=customer, wish="Quartz", words="from Oda Fenwright", by=owner)


def at(name, *keys):
    return reverse(f"jobs:{name}", args=keys)


def answered(client, enquiry, **said):
    return client.post(enquiry.get_absolute_url(), {"answer": "goes"} | said)


def test_a_pasted_message_fills_the_form_and_saves_nothing(owner_client, entry):
    page = owner_client.post(at("enquiry-new"), {"do": "read", "words": MESSAGE.format(code=entry.code)})
    form = page.context["form"]
    told = {name: form[name].value() for name in ("customer", "email", "phone", "code", "family")}
    assert told == {
        "customer": "Oda Fenwright",
        "email": "oda@fen.example",
        "phone": "+49 30 1234567",
        "code": entry.code,
        "family": "Kelpmoor 38",
    }
    assert form["wish"].value().startswith("Hello, I have one just like this.")
    assert not Enquiry.objects.exists()


def mail(body="My watch stops. Would quartz go in?", html="", **head):
    """A message as a mail program writes it."""
    message = EmailMessage()
    said = {"From": "Zoë Fenwright <zoe@fen.example>", "Date": "Mon, 23 Nov 2026 23:40:00 -0500"}
    for name, words in (said | {"Subject": "About A grey dial", "Message-ID": "<1@fen.example>"} | head).items():
        message[name] = words
    if body:
        message.set_content(body)
    if html:
        (message.add_alternative if body else message.set_content)(html, subtype="html")
    return message


@pytest.mark.parametrize("coding", ["quoted-printable", "base64"])
def test_a_mails_source_is_read_as_its_reader_sees_it(owner_client, entry, coding):
    message = mail(Subject=f"About A grey dial, {entry.code}")
    words = "Geht Quarz hinein? Größe 38 mm.\n\nViele Grüße\nZoë Fenwright\n7 Tansy Row\nLowmoor\nTel. 01632 960123\n"
    message.set_content(words, cte=coding)
    page = owner_client.post(at("enquiry-new"), {"do": "read", "words": message.as_string()})
    form = page.context["form"]
    told = {name: form[name].value() for name in ("customer", "email", "phone", "address", "came", "wish", "code")}
    assert told == {
        "customer": "Zoë Fenwright",
        "email": "zoe@fen.example",
        "phone": "01632 960123",
        "address": "7 Tansy Row\nLowmoor",
        "came": "2026-11-24",
        "wish": "Geht Quarz hinein? Größe 38 mm.",
        "code": entry.code,
    }
    assert form["words"].value().startswith("From: Zoë Fenwright <zoe@fen.example>\nDate: Mon, 23 Nov 2026")


@pytest.mark.parametrize(
    ("message", "told"),
    [
        (mail(**{"Reply-To": "home@fen.example"}), {"email": "home@fen.example"}),
        (mail("Plain words.", html="<p>Other words.</p>"), {"wish": "Plain words."}),
        (mail("", html="<style>p {}</style><p>Only &amp; this</p><p>and that.</p>"), {"wish": "Only & this and that."}),
        (mail("Prefers: phone\n\nIt stops."), {"reach": "phone", "wish": "It stops."}),
        (mail("I prefer my own hands."), {"reach": None, "wish": "I prefer my own hands."}),
        (mail("Am liebsten per E-Mail\n\nSie steht."), {"reach": "email"}),
        (mail("It stops.\n\nAddress: 7 Tansy Row\nLowmoor\n\nThanks"), {"address": "7 Tansy Row\nLowmoor"}),
        (mail("It stops.\n\nThanks\nZoë"), {"address": None, "reach": None, "phone": None}),
        (mail("Yes.\n\n> Ring us at 01632 960999\n> Weir Lane"), {"phone": None, "wish": "Yes."}),
        (mail(Date="Mon, 23 Nov 2099 10:00:00 +0000"), {"came": None}),
    ],
)
def test_a_mail_tells_what_is_in_it_and_nothing_else(db, message, told):
    said = read(message.as_string())
    assert {name: said.get(name) for name in told} == told


@pytest.mark.parametrize(
    ("line", "day"),
    [
        ("Date: 2026-11-23 14:02", "2026-11-23"),
        ("Gesendet: Montag, 23. November 2026 14:02", "2026-11-23"),
        ("Datum: 23.11.2026", "2026-11-23"),
        ("Sent: Monday, November 23, 2026 2:02 PM", "2026-11-23"),
        ("Envoyé : lundi 3 août 2026 14:02", "2026-08-03"),
        ("Fecha: 3 de agosto de 2026, 14:02", "2026-08-03"),
        ("日付: 2026年11月23日", "2026-11-23"),
        ("Date: soon", None),
        ("Date: 31.02.2026", None),
    ],
)
def test_the_day_is_read_as_mail_programs_copy_it(db, line, day):
    assert read(f"From: Oda <oda@fen.example>\n{line}\n\nIt stops.").get("came") == day


def test_a_mail_that_nobody_can_decode_stays_as_it_is(db):
    source = mail().as_string().replace('charset="utf-8"', 'charset="klingon"')
    assert read(source)["email"] == "zoe@fen.example"


@pytest.mark.parametrize(
    ("words", "told"),
    [
        ("", {}),
        ("Is 1969-12 old? 34 mm, 18.50", {"wish": "Is 1969-12 old? 34 mm, 18.50"}),
        ("Von: Q. Zorn\n\nGeht das?", {"customer": "Q. Zorn", "wish": "Geht das?"}),
        ("BCDFG is no code here", {"wish": "BCDFG is no code here"}),
    ],
)
def test_what_a_message_does_not_tell_stays_blank(words, told):
    assert read(words) == told


def test_of_a_letter_what_is_asked_is_the_wish(owner_client):
    asked = "my watch stops.\nWould quartz\nfit?\n\nAnd the date?"
    words = f"Dear Sir or Madam,\n\n{asked}\n\nKind regards\nO. Fenwright\n7 Row"
    assert read(words)["wish"] == "my watch stops. Would quartz fit?\nAnd the date?"
    assert read("Guten Tag,\n\ngeht das?\n\nMit freundlichen Grüßen\nQ. Z.")["wish"] == "geht das?"
    assert "Paste the message first." in owner_client.post(at("enquiry-new"), {"do": "read", "words": " "}).text


def test_a_price_goes_with_an_answer_that_names_it(owner_client, enquiry):
    response = answered(owner_client, enquiry, answer="measure", price_from="180")
    assert response.status_code == 422
    assert "A price goes with “would fit” alone." in response.text
    enquiry.refresh_from_db()
    assert (enquiry.answer, enquiry.price_from) == ("", None)


def test_the_first_wrong_field_has_the_focus(owner_client):
    sent = {"customer": "Oda", "phone": "0151 2", "wish": "Quartz", "came": timezone.localdate(), "code": "NOPE"}
    text = owner_client.post(at("enquiry-new"), sent).text
    assert text.count("autofocus") == 1
    assert "autofocus" in text[text.index('name="code"') :].partition(">")[0]


def test_it_is_taken_down_for_a_new_customer_and_under_the_entry_s_family(owner_client, entry):
    sent = {"customer": "Oda Fenwright", "phone": "0151 2", "wish": "Quartz", "code": entry.code.lower()}
    response = owner_client.post(at("enquiry-new"), sent | {"came": timezone.localdate()})
    made = Enquiry.objects.get()
    assert response.url == made.get_absolute_url()
    assert (made.customer.phone, made.entry, made.case_family) == ("0151 2", entry, entry.family)
    assert made.state == "waiting"
    assert "1 waits" in owner_client.get("/").text


@pytest.mark.parametrize(
    ("changes", "words"),
    [
        ({"code": "NOPE"}, "No entry has the code NOPE."),
        ({"wish": ""}, "Fill this in."),
        ({"phone": ""}, "Enter the new customer&#x27;s phone number, e-mail or address."),
        ({"came": "2999-01-01"}, "is in the future"),
    ],
)
def test_what_cannot_be_is_said_on_its_field_and_nothing_is_lost(owner_client, changes, words):
    sent = {"customer": "Oda", "phone": "0151 2", "wish": "Quartz", "came": "2026-11-01", "words": "kept words"}
    response = owner_client.post(at("enquiry-new"), sent | changes)
    assert response.status_code == 422
    assert words in response.text
    assert "kept words" in response.text
    assert not Enquiry.objects.exists()


@pytest.mark.parametrize(
    ("said", "words"),
    [
        ({"answer": "goes", "price_from": "180"}, "Es würde passen, ab 180,00 €."),
        ({"answer": "goes", "price_from": "180,50"}, "Es würde passen, ab 180,50 €."),
        ({"answer": "goes"}, "Es würde passen. Ein verbindliches Angebot"),
        ({"answer": "measure"}, "Bitte füllen Sie das beiliegende Blatt aus"),
        ({"answer": "not"}, "passt dieses Werk nicht"),
    ],
)
def test_the_answer_is_worded_in_the_customers_language(owner_client, enquiry, said, words):
    Shop.objects.create(name="Weir Lane", currency="EUR")
    answered(owner_client, enquiry, **said)
    enquiry.refresh_from_db()
    assert (enquiry.state, enquiry.answered) == ("answered", timezone.localdate())
    page = owner_client.get(enquiry.get_absolute_url())
    assert words in page.context["texts"].email.replace("\xa0", " ")


def test_who_sees_no_money_neither_reads_nor_changes_the_price(enquiry, hand):
    enquiry.price_from, enquiry.answer, enquiry.state = Decimal(180), "goes", "answered"
    enquiry.save()
    assert "180" not in hand.get(enquiry.get_absolute_url()).text
    answered(hand, enquiry, answer="not", price_from="1")
    enquiry.refresh_from_db()
    assert (enquiry.price_from, enquiry.answer) == (180, "not")


def test_the_sheet_to_measure_by_is_one_page_in_the_customers_language(owner_client, enquiry):
    (words,) = pdf_pages(owner_client.get(at("enquiry-sheet", enquiry.pk)).content)
    assert "Zifferblatt, soweit sichtbar" in words


def test_the_watch_comes_and_the_enquiry_becomes_its_job(owner_client, enquiry):
    page = owner_client.get(f"{at('log')}?enquiry={enquiry.pk}")
    form = page.context["form"]
    assert (form["customer"].value(), form["wish"].value()) == (picked(enquiry.customer), "Quartz")
    sent = {name: form[name].value() or "" for name in form.fields}
    owner_client.post(at("log"), sent | {"luminous": "none"})
    enquiry.refresh_from_db()
    assert (enquiry.state, enquiry.job) == ("job", Job.objects.get())
    assert enquiry.job.customer == enquiry.customer
    assert f"job {enquiry.job.number}" in owner_client.get(at("enquiries")).text
    again = answered(owner_client, enquiry)
    assert again.status_code == 422
    assert "This enquiry is no longer open (became a job). Nothing was changed." in again.text


@pytest.mark.parametrize("number", ["x", "999999", "9" * 30, "²"])
def test_an_enquiry_that_is_none_begins_an_empty_page(owner_client, number):
    assert owner_client.get(f"{at('log')}?enquiry={number}").context["form"]["wish"].value() is None


def test_it_is_closed_with_a_reason_and_opened_again(owner_client, enquiry):
    owner_client.post(at("enquiry-close", enquiry.pk), {"reason": ""})
    enquiry.refresh_from_db()
    assert enquiry.state == "waiting"
    owner_client.post(at("enquiry-close", enquiry.pk), {"reason": "too dear"})
    enquiry.refresh_from_db()
    assert (enquiry.state, enquiry.reason) == ("closed", "too dear")
    owner_client.post(at("enquiry-close", enquiry.pk), {"do": "reopen"})
    enquiry.refresh_from_db()
    assert (enquiry.state, enquiry.reason) == ("waiting", "")


def test_those_to_ask_again_by_now_stand_apart(owner_client, enquiry, owner):
    today = timezone.localdate()
    for days in (-1, 0, 1):
        Enquiry.objects.create(
            customer=enquiry.customer, wish="w", by=owner, state="answered", follow_up=today + timedelta(days=days)
        )
    heads = {group.head: group.number for group in owner_client.get(at("enquiries")).context["groups"]}
    assert heads == {"Wait for an answer": 1, "To ask again": 2, "Answered": 1}
    assert "1 waits for an answer, 2 to ask again" in as_read(owner_client.get("/").text)


def test_an_older_page_does_not_overwrite_a_newer_answer(owner_client, enquiry):
    stamp = owner_client.get(enquiry.get_absolute_url()).context["form"].stamp
    answered(owner_client, enquiry, stamp=stamp)
    response = answered(owner_client, enquiry, stamp=stamp, answer="not")
    assert response.status_code == 422
    enquiry.refresh_from_db()
    assert enquiry.answer == "goes"


def test_it_is_erased_with_its_customer(owner, enquiry):
    erase(customer=enquiry.customer, by=owner)
    enquiry.refresh_from_db()
    assert (enquiry.words, enquiry.wish, enquiry.state) == ("", "Quartz", "closed")
    assert "Oda" not in str(Customer.objects.get())
