"""What a pasted message says: who writes, how to reach them, and which entry of the show window they mean."""

from __future__ import annotations

import re

from jobs.models import WindowEntry

_FROM = re.compile(
    r"^\s*(?:from|von|de|差出人)\s*[:：]\s*(?P<name>[^<\n]*?)\s*(?:<(?P<email>[^>\s]+@[^>\s]+)>)?\s*$",
    re.IGNORECASE | re.MULTILINE,
)
_EMAIL = re.compile(r"[\w.+-]+@[\w-]+(?:\.[\w-]+)+")
_PHONE = re.compile(r"(?<![\w./-])\+?\(?\d[\d ()/.-]{6,18}\d(?![\w/])")
_CODE = re.compile(r"\b[BCDFGHJKLMNPQRSTVWXZ2-9]{5}\b")
_HEADER = re.compile(
    r"^\s*(?:from|to|cc|date|sent|subject|von|an|datum|betreff|de|para|fecha|asunto|à|objet)\s*:.*$", re.IGNORECASE
)
_GREETING = re.compile(
    r"^\s*(?:dear|hello|hi|good (?:day|morning|afternoon|evening)|sehr geehrte|guten|hallo|liebe[rs]?|bonjour|madame|"
    r"hola|estimad[oa]s?|buen[oa]s)\b[^,.]{0,40}[,.:]?\s*$",
    re.IGNORECASE,
)
_PARTING = re.compile(
    r"^\s*(?:(?:(?:kind|best|warm) )?(?:regards|wishes)|yours|sincerely|many thanks|thank you|thanks|mit freundlichen|"
    r"viele grüße|beste grüße|cordialement|bien à vous|merci|saludos|atentamente|un saludo|gracias)\b.{0,40}$|"
    r"^\s*--\s*$",
    re.IGNORECASE,
)
_LONGEST_WISH = 600


def read(words: str) -> dict[str, str]:
    """What the fields of the enquiry form begin with, as far as the message tells it."""
    sender = _FROM.search(words)
    address = (sender and sender["email"]) or (match[0] if (match := _EMAIL.search(words)) else "")
    entry = entry_in(words)
    said = {
        "customer": sender["name"].strip(" \"'") if sender else "",
        "email": address,
        "phone": match[0].strip() if (match := _PHONE.search(words)) else "",
        "code": entry.code if entry else "",
        "family": str(entry.family.name) if entry and entry.family else "",
        "wish": _body(words),
    }
    return {name: text for name, text in said.items() if text}


def entry_in(words: str) -> WindowEntry | None:
    """The first entry of the show window whose code stands in the words; None where none does."""
    codes = _CODE.findall(words.upper())
    named = {entry.code: entry for entry in WindowEntry.objects.filter(code__in=codes).select_related("family")}
    return next((named[code] for code in codes if code in named), None)


def _body(words):
    """What is asked: without the head, the greeting and what follows the parting words, each paragraph in one line."""
    lines = [line.strip() for line in words.splitlines()]
    while lines and (not lines[0] or _HEADER.match(lines[0]) or _GREETING.match(lines[0])):
        lines.pop(0)
    end = next((i for i, line in enumerate(lines) if i and _PARTING.match(line)), len(lines))
    paragraphs = "\n".join(lines[:end]).split("\n\n")
    return "\n".join(" ".join(text.split()) for text in paragraphs if text.strip())[:_LONGEST_WISH]
