"""The demo's enquiries: one that waits for an answer, and one to ask again."""

from datetime import timedelta

from django.utils import timezone

from jobs.demo.people import customer, visitor
from jobs.enquiries import answering
from jobs.enquiries.reading import read
from jobs.models import Enquiry, WindowEntry

_MESSAGE = """From: Hedda Quist <hedda@quist.example>
Subject: About {title}, {code}

I have the same watch from my aunt, with a white dial. It stops after an hour. Could it have a quartz
movement as well, and would the date still change? Pictures follow. You can ring me: 555 0192.
"""


def fill_enquiries():
    """Take both down."""
    today, entry = timezone.localdate(), WindowEntry.objects.earliest("pk")
    words = _MESSAGE.format(title=entry.title, code=entry.code)
    _taken("Hedda Quist", today - timedelta(days=1), entry, wish=read(words)["wish"], words=words)
    asked = _taken(
        "Milo Sarn", today - timedelta(days=16), None, wish="A quartz movement for a watch that is 24 mm wide."
    )
    asked.answer, asked.follow_up = Enquiry.Answer.MEASURE, today
    answering.answer(enquiry=asked)


def _taken(name, came, entry, **facts):
    who = customer(name)
    return answering.take_down(by=visitor(), customer=who, family_name="", entry=entry, came=came, **facts)
