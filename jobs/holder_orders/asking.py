"""What the site's mail link asks of who orders a holder, and what an order begins with once such a mail is pasted."""

from __future__ import annotations

import re

from django.utils.translation import gettext
from django.utils.translation import gettext_noop as _

from jobs.enquiries.mail import as_read
from jobs.enquiries.reading import holder_in, read
from jobs.language.choices import CODES, speaking

QUESTIONS = _("How many?\n\n\nWhich material and colour?\n\n\nWhere shall we send them?\n\n\n")
_WHO = ("customer", "email", "phone", "address", "reach")
_LONGEST = 8000


def begun_by(words: str, materials: list[str]) -> dict[str, str | int]:
    """What the fields of the order form begin with: who writes, which holder, and the answers below our questions.

    Of `materials`, those that are known, the one that an answer begins with is parted from its colour.
    """
    words = as_read(words.replace("\0", ""))[:_LONGEST]
    said: dict[str, str | int] = {name: text for name, text in read(words).items() if name in _WHO}
    if holder := holder_in(words):
        said["design"] = holder.design_id
    for code in CODES:
        with speaking(code):
            answers = _answers(words, [line for line in gettext(QUESTIONS).splitlines() if line])
        if answers:
            return said | {"language": code} | _ordered(answers, str(said.get("customer", "")), materials)
    return said


def _answers(words, questions):
    """The lines below each question, up to the next one; none where a question is missing."""
    lines = [line.strip().lstrip("> ") for line in words.splitlines()]
    if not all(question in lines for question in questions):
        return []
    starts = [lines.index(question) for question in questions]
    ends = [*starts[1:], len(lines)]
    return [[line for line in lines[a + 1 : b] if line] for a, b in zip(starts, ends, strict=True)]


def _ordered(answers, customer, materials):
    count, which, where = answers
    ordered = {}
    if number := re.search(r"\d{1,3}", " ".join(count)):
        ordered["count"] = number[0]
    answer = " ".join(which)
    known = next((name for name in materials if answer.casefold().startswith(name.casefold())), answer)
    ordered |= {"material": known[:60], "colour": answer[len(known) :].strip(" ,")[:40]}
    ordered["address"] = "\n".join(line for line in where if line != customer)[:500]
    return {name: text for name, text in ordered.items() if text}
