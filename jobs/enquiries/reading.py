"""What a pasted message says: who writes, when, how to reach them, and which entry of the show window they mean."""

from __future__ import annotations

import datetime as dt
import re
from email.utils import parsedate_to_datetime
from functools import cache

from babel.dates import get_month_names
from django.utils import timezone

from jobs.enquiries.mail import as_read
from jobs.language.choices import CODES
from jobs.models import Customer, WindowEntry, WindowHolder

_FROM = re.compile(
    r"^\s*(?:from|von|de|差出人)\s*[:：]\s*(?P<name>[^<\n]*?)\s*(?:<(?P<email>[^>\s]+@[^>\s]+)>)?\s*$",
    re.IGNORECASE | re.MULTILINE,
)
_REPLY_TO = re.compile(r"^\s*reply-to\s*:.*?(?P<email>[^<>\s]+@[^<>\s]+)>?\s*$", re.IGNORECASE | re.MULTILINE)
_DATE = re.compile(
    r"^\s*(?:date|sent|datum|gesendet|envoyé|fecha|enviado(?: el)?|日付|送信日時)\s*[:：]\s*(?P<when>.+)$",
    re.IGNORECASE | re.MULTILINE,
)
_YEAR_FIRST = re.compile(r"(?P<year>\d{4})\s*[-/.年]\s*(?P<month>\d{1,2})\s*[-/.月]\s*(?P<day>\d{1,2})")
_DAY_FIRST = re.compile(r"\b(?P<day>\d{1,2})\.\s?(?P<month>\d{1,2})\.\s?(?P<year>\d{4})")
_IN_WORDS = re.compile(r"\b(?P<day>\d{1,2})\.?\s(?:de\s)?(?P<name>[^\W\d_]+)\.?\s(?:de\s)?(?P<year>\d{4})")
_ZONE = re.compile(r"\d:\d\d.*(?:[+-]\d{4}|GMT|UTC)")
_ADDRESS = re.compile(
    r"^\s*(?:(?:my |postal )?address|(?:meine )?(?:post)?(?:adresse|anschrift)|(?:mon )?adresse|(?:mi )?dirección|住所)"
    r"\s*[:：]\s*(?P<first>.*)\n(?P<rest>(?:[^\n:：@]+\n)*)",
    re.IGNORECASE | re.MULTILINE,
)
_PREFERS = re.compile(
    r"^[^\S\n]*(?:prefers|preferred|i prefer|best reached|reach me|bevorzugt|am liebsten|de préférence|preferencia|"
    r"prefiero|ご希望の連絡方法)(?:\s+(?:by|per|par|por))?\s*[:：]?\s+(?P<how>\S.{0,60})$",
    re.IGNORECASE | re.MULTILINE,
)
_WAYS = {
    Customer.Reach.MESSAGE: r"text message|\bsms\b|\btext\b|textnachricht|mensaje|ショート",
    Customer.Reach.EMAIL: r"e-?mail|\bmail\b|courriel|correo electrónico|メール",
    Customer.Reach.PHONE: r"phone|\bcall\b|\bring\b|telefon|anruf|téléphone|teléfono|電話",
    Customer.Reach.POST: r"\bpost\b|letter|\bbrief\b|courrier|carta|correo postal|郵便",
}
"""How somebody likes to be reached, in the words of people."""
_EMAIL = re.compile(r"[\w.+-]+@[\w-]+(?:\.[\w-]+)+")
_PHONE = re.compile(r"(?<![\w./-])\+?\(?\d[\d ()/.-]{6,18}\d(?![\w/])")
_CODE = re.compile(r"\b[BCDFGHJKLMNPQRSTVWXZ2-9]{5}\b")
_HEADER = re.compile(
    r"^\s*(?:from|to|cc|date|sent|subject|reply-to|von|an|datum|gesendet|betreff|de|para|fecha|enviado(?: el)?|asunto|"
    r"à|envoyé|objet|差出人|宛先|件名|日付|送信日時)\s*[:：].*$",
    re.IGNORECASE,
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
_MOST_ADDRESS_LINES = 4


def read(words: str) -> dict[str, str]:
    """What the fields of the enquiry form begin with, as far as the message tells it."""
    words = as_read(words)
    entry = entry_in(words)
    words = "\n".join(line for line in words.splitlines() if not line.lstrip().startswith(">"))
    sender, reply = _FROM.search(words), _REPLY_TO.search(words)
    email = (reply and reply["email"]) or (sender and sender["email"])
    text = "\n".join(line for line in words.splitlines() if not _HEADER.match(line))
    said = {
        "customer": sender["name"].strip(" \"'") if sender else "",
        "email": email or (match[0] if (match := _EMAIL.search(words)) else ""),
        "phone": match[0].strip() if (match := _PHONE.search(text)) else "",
        "address": _address(text),
        "reach": _reach(text),
        "came": _came(words),
        "code": entry.code if entry else "",
        "family": str(entry.family.name) if entry and entry.family else "",
        "wish": _body(_PREFERS.sub("", words, count=1) if _reach(text) else words),
    }
    return {name: value for name, value in said.items() if value}


def _came(words: str) -> str:
    """The day of the message as YYYY-MM-DD; empty where its head does not tell one, or one that is still to come."""
    if not (line := _DATE.search(words)):
        return ""
    day = _day_in(line["when"].strip())
    return day.isoformat() if day and day <= timezone.localdate() else ""


def _day_in(when):
    try:
        if _ZONE.search(when):
            return timezone.localtime(parsedate_to_datetime(when)).date()
        if numbers := _YEAR_FIRST.search(when) or _DAY_FIRST.search(when):
            return dt.date(int(numbers["year"]), int(numbers["month"]), int(numbers["day"]))
        if (worded := _IN_WORDS.search(when)) and (month := _months().get(worded["name"].casefold()[:4])):
            return dt.date(int(worded["year"]), month, int(worded["day"]))
        return parsedate_to_datetime(when).date()
    except ValueError:
        return None


@cache
def _months():
    """The numbers of months by the first four letters of their names, in every language that has some."""
    names = [(number, name) for code in CODES for number, name in get_month_names("wide", locale=code).items()]
    short = [(number, name) for code in CODES for number, name in get_month_names("abbreviated", locale=code).items()]
    return {name.casefold().rstrip(".")[:4]: number for number, name in [*short, *names]}


def _reach(text: str) -> str:
    """How they like to be reached, where a line says so."""
    how = line["how"] if (line := _PREFERS.search(text)) else ""
    return next((str(way) for way, words in _WAYS.items() if re.search(words, how, re.IGNORECASE)), "")


def _address(text: str) -> str:
    """The postal address behind its own word, else of the lines below the parting words those from a number on."""
    if said := _ADDRESS.search(f"{text}\n"):
        lines = [said["first"], *said["rest"].splitlines()]
    else:
        lines = text.splitlines()
        parting = next((i for i, line in enumerate(lines) if i and _PARTING.match(line)), len(lines))
        lines = [line for line in lines[parting + 1 :] if not (_EMAIL.search(line) or _PHONE.search(line))]
        first = next((i for i, line in enumerate(lines) if _is_street(line)), len(lines))
        lines = lines[first:]
    lines = [line.strip() for line in lines if line.strip()][:_MOST_ADDRESS_LINES]
    return "\n".join(lines) if any(_is_street(line) for line in lines) else ""


def _is_street(line):
    return bool(re.search(r"\d", line) and re.search(r"[^\W\d_]{3}", line)) and len(line) < 80


def entry_in(words: str) -> WindowEntry | None:
    """The first entry of the show window whose code stands in the words; None where none does."""
    return _coded(WindowEntry.objects.select_related("family"), words)


def holder_in(words: str) -> WindowHolder | None:
    """The first holder of the show window whose code stands in the words."""
    return _coded(WindowHolder.objects.all(), words)


def _coded(records, words):
    codes = _CODE.findall(words.upper())
    named = {record.code: record for record in records.filter(code__in=codes)}
    return next((named[code] for code in codes if code in named), None)


def _body(words):
    """What is asked: without the head, the greeting and what follows the parting words, each paragraph in one line."""
    lines = [line.strip() for line in words.splitlines()]
    while lines and (not lines[0] or _HEADER.match(lines[0]) or _GREETING.match(lines[0])):
        lines.pop(0)
    end = next((i for i, line in enumerate(lines) if i and _PARTING.match(line)), len(lines))
    paragraphs = "\n".join(lines[:end]).split("\n\n")
    return "\n".join(" ".join(text.split()) for text in paragraphs if text.strip())[:_LONGEST_WISH]
