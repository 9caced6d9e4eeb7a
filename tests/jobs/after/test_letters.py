"""A message is seen, sent by a real mail server on this machine, and kept; a failure counts as nothing sent."""

import datetime as dt
import socket
from email import message_from_bytes, policy

import pytest
from aiosmtpd.controller import Controller
from django.urls import reverse

from jobs.after import letters
from jobs.after.due import all_due
from jobs.after.texts import texts_for
from jobs.models import Event, FollowUp, Shop
from tests.factories import CustomerFactory, UserFactory

pytestmark = pytest.mark.django_db
HOME = dt.date(2023, 1, 10)


class Mailbox:
    """Takes what comes, or answers as it is told to."""

    def __init__(self):
        self.messages, self.answer = [], "250 taken"

    async def handle_DATA(self, server, session, envelope):  # noqa: N802 - the server's own name
        if self.answer.startswith("250"):
            message = message_from_bytes(envelope.content, policy=policy.default)
            self.messages.append((envelope.mail_from, envelope.rcpt_tos, message))
        return self.answer


def free_port():
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        return probe.getsockname()[1]


@pytest.fixture
def mailbox(settings):
    box = Mailbox()
    controller = Controller(box, hostname="127.0.0.1", port=free_port())
    controller.start()
    settings.EMAIL_BACKEND = "django.core.mail.backends.smtp.EmailBackend"
    settings.EMAIL_HOST, settings.EMAIL_PORT = "127.0.0.1", controller.port
    settings.DEFAULT_FROM_EMAIL = "shop@weir.example"
    yield box
    controller.stop()


@pytest.fixture
def job(gone_home):
    customer = CustomerFactory(name="Jörg Ahlen", email="joerg@ahlen.example", language="de")
    return gone_home(HOME, customer=customer)


def url(job, name="letter"):
    return reverse(f"jobs:{name}", args=[job.number, "cell"])


def sent(**changes):
    return {"subject": "Ihre Uhr", "body": "Grüß Gott,\n\nneue Batterie?"} | changes


def test_it_is_shown_as_it_will_go_in_the_customers_language_and_only_then_sent(mailbox, job, hand):
    page = hand.get(url(job)).text
    assert "joerg@ahlen.example" in page
    assert "Die Batterie Ihrer Uhr" in page
    assert mailbox.messages == []
    assert hand.post(url(job), sent()).status_code == 302
    ((sender, to, message),) = mailbox.messages
    assert (sender, to, message["subject"]) == ("shop@weir.example", ["joerg@ahlen.example"], "Ihre Uhr")
    assert message.get_content().strip().replace("\r\n", "\n") == "Grüß Gott,\n\nneue Batterie?"


def test_what_was_sent_is_kept_in_the_history_and_counts_as_asked(mailbox, job, hand):
    hand.post(url(job), sent())
    assert job.events.get(kind=Event.Kind.LETTER).after == "Ihre Uhr\n\nGrüß Gott,\n\nneue Batterie?"
    assert FollowUp.objects.get().asked_on is not None
    assert "neue Batterie?" in hand.get(reverse("jobs:history", args=[job.number])).text


@pytest.mark.parametrize("answer", ["554 not from you", "451 later"])
def test_a_server_that_refuses_is_told_of_and_nothing_counts_as_sent(mailbox, job, hand, answer):
    mailbox.answer = answer
    page = hand.post(url(job), sent(body="My own words"))
    assert page.status_code == 422
    assert f"its answer was {answer[:3]}" in page.text
    assert "My own words" in page.text
    assert not job.events.filter(kind=Event.Kind.LETTER).exists()
    assert not FollowUp.objects.exists()


def test_a_server_that_does_not_answer_is_told_of(mailbox, job, hand, settings):
    settings.EMAIL_PORT = free_port()
    page = hand.post(url(job), sent())
    assert (page.status_code, "it does not answer" in page.text) == (422, True)
    assert not job.events.filter(kind=Event.Kind.LETTER).exists()


@pytest.mark.parametrize("change", [{"subject": ""}, {"body": " "}, {"subject": "x\nBcc: all@x.example"}])
def test_no_half_message_and_no_second_header_goes_out(mailbox, job, hand, change):
    answer = hand.post(url(job), sent(**change))
    assert all("Bcc" not in message for _, _, message in mailbox.messages)
    assert answer.status_code == 422 or len(mailbox.messages) == 1


def test_nobody_who_said_no_is_written_to(mailbox, job, hand):
    job.customer.no_letters = True
    job.customer.save()
    page = hand.get(url(job, "follow-up")).text
    assert ("See and send" in page, "text-1" in page, "wants no letters" in page) == (False, False, True)
    hand.post(url(job), sent())
    with pytest.raises(letters.NotSent):
        letters.send(job=job, due=all_due(job=job)[0], subject="x", body="y", by=UserFactory())
    assert mailbox.messages == []


def test_without_a_mail_server_nothing_is_offered_or_sent(job, hand, settings):
    assert settings.EMAIL_HOST == ""
    assert "See and send" not in hand.get(url(job, "follow-up")).text
    hand.post(url(job), sent())
    assert not job.events.filter(kind=Event.Kind.LETTER).exists()


def test_who_only_looks_sends_nothing(mailbox, job, reader):
    assert reader.post(url(job), sent()).status_code == 403
    assert mailbox.messages == []


def test_the_shop_words_its_letters_in_each_language(owner_client, job):
    Shop.objects.create(name="Weir Lane", language="en")
    page = owner_client.get("/shop/words/de/").text
    assert "Mit freundlichen Grüßen" in page
    words = {"after_email": "Lieber Herr {name}: {text}", "after_cell": "Neue Batterie ab {month}?"}
    assert owner_client.post("/shop/words/de/", {"after_email": "Nichts"}).status_code == 422
    assert owner_client.post("/shop/words/de/", words).status_code == 302
    (due,) = [due for due in all_due() if due.kind == "cell"]
    texts = texts_for(job=job, due=due)
    assert texts.email.startswith("Lieber Herr Jörg Ahlen: Neue Batterie ab ")
    assert texts.message.startswith("Guten Tag Jörg Ahlen! Neue Batterie ab ")
    job.customer.language = "fr"
    job.customer.save()
    job.refresh_from_db()
    assert texts_for(job=job, due=due).email.startswith("Bonjour")
