"""What counts as personal: found however it is written, and what is only like it is not."""

import pytest
from django.utils import timezone

from jobs.models import GoAhead, Shop
from jobs.window.check.personal import Personal
from tests.factories import CustomerFactory, JobFactory

pytestmark = pytest.mark.django_db


@pytest.fixture
def personal(owner):
    Shop.objects.create(name="Weir Lane", address="Ada Pell\n12 Weir Lane\n1234 Hollin Ferry\n555 0199")
    CustomerFactory(
        name="Orla Quenby-Marsh",
        email="o.quenby@post.example",
        phone="+44 1632 960 123",
        address="7 Tansy Row\n1234 Hollin Ferry\nLowmoor",
    )
    CustomerFactory(name="Ng Li", phone="0199", address="12 Weir Lane")
    CustomerFactory(name="田中花子", phone="")
    CustomerFactory(name="Ada Pell", phone="555 0199")
    CustomerFactory(name="Ana", is_erased=True)
    job = JobFactory(number="26-014", serial="A-1187/9")
    JobFactory(number="26-015", serial="77")
    GoAhead.objects.create(job=job, how="phone", said_by="Tom Brook", on=timezone.localdate(), by=owner)
    return Personal()


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("for Orla Quenby-Marsh", ["Orla Quenby-Marsh"]),
        ("ORLA  QUENBY\nMARSH", ["ORLA QUENBY MARSH"]),
        ("Mrs Quenby's watch", ["Quenby"]),
        ("the Marsh watch", ["Marsh"]),
        ("Que\u00adnby", ["Quenby"]),
        ("with o.quenby@post.example.", ["o.quenby@post.example"]),
        ("call 01632 960123", ["01632 960123"]),
        ("call 960-123", []),
        ("(01632) 960.123", ["(01632) 960.123"]),
        ("from 7, Tansy Row", ["7, Tansy Row"]),
        ("no. A1187-9 and A-1187-9", ["A-1187-9"]),
        ("like job 26-014", ["26-014"]),
        ("Tom Brook said", ["Tom Brook"]),
        ("dial of Ng Li", ["Ng Li"]),
        ("田中花子様の時計", ["田中花子"]),
    ],
)
def test_it_is_found(personal, text, words):
    assert [hit.words for hit in personal.hits(text)] == words


@pytest.mark.parametrize(
    "text",
    [
        "a salt marsh in the brook",  # words of a name without a capital
        "Saltmarsh 26",
        "Ng, 0199 and 77",  # too short to say whose they are
        "1234 Hollin Ferry, 12 Weir Lane, 555 0199, Ada Pell",  # the shop's own letterhead
        "Lowmoor",  # a town is nobody's alone
        "26.014 mm and 126-0145",
        "2026-11-27T09:60:12.3",
        "Ana",  # erased
    ],
)
def test_it_is_not_taken_for_somebody(personal, text):
    assert list(personal.hits(text)) == []


def test_words_that_meet_by_chance_are_no_address(personal):
    assert list(personal.hits("dated 7 · Tansy Row")) == []


def test_a_hit_says_what_it_is(personal):
    assert [(hit.words, hit.what, hit.key) for hit in personal.hits("Quenby rang 01632 960 123")] == [
        ("Quenby", "part of a customer's name", "quenby"),
        ("01632 960 123", "a customer's phone number", "01632 960 123"),
    ]
