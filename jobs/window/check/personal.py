"""Everything personal that the workshop holds, as words to look for in what is to be shown.

Looked for, however it is capitalised, spaced and punctuated:

- whole names of customers and of who spoke or paid for them, e-mail addresses, job numbers;
- each word of a name, of three letters or more, where it is written as a name is: with a capital;
- phone numbers by their last digits, six at least, however they are grouped;
- lines of addresses that hold a number: a street with its house, a code with its town. A line without one, such as a
  town, is nobody's alone;
- serial numbers of four signs or more.

What the shop says of itself (its letterhead) is not looked for. Names in scripts without gaps between words are found
within a run of letters too.
"""

from __future__ import annotations

import re
import unicodedata
from collections import defaultdict
from itertools import pairwise
from typing import TYPE_CHECKING, NamedTuple

from jobs.models import Customer, GoAhead, Invoice, Job, Quote, Shop

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator

_LEAST_WORD, _LEAST_SERIAL, _LEAST_DIGITS, _TELLING_DIGITS = 3, 4, 6, 8
_LONGEST_RUN = 10
"""Letters of a name in a script without gaps, at most."""
_WORD = re.compile(r"[^\W_]+")
_GAP = re.compile(r"[\s,.;:'’@/()&+_\u2010-\u2013-]{1,6}")
"""What may stand between the words of a name or an address."""
_INVISIBLE = re.compile("[\u00ad\u200b-\u200d\u2060\ufeff]")
_DIGITS = re.compile(r"\+?\(?\d(?:[\s./()\u2010-\u2013-]{0,3}\d){5,}")
_DAY = re.compile(r"\d{4}-\d{2}-\d{2}")
_JOB_NUMBER = re.compile(r"(?<![\w.-])\d{2}[-\u2010-\u2013]\d{3,9}(?![\w.-])")
_WITHOUT_GAPS = re.compile("[\u3040-\u30ff\u3400-\u9fff\uac00-\ud7af\u0e00-\u0e7f]+")


class Hit(NamedTuple):
    """Something personal in a text: the words as they stand there, and what they are."""

    words: str
    what: str

    @property
    def key(self) -> str:
        """What names it where it is cleared: its words, folded."""
        return " ".join(word for word, _ in _words_of(self.words)) or self.words


class Personal:
    """The words to look for, read once."""

    def __init__(self) -> None:
        self._phrases: dict[str, list[tuple[tuple[str, ...], str]]] = defaultdict(list)
        self._names: dict[str, str] = {}
        self._runs: dict[str, str] = {}
        self._phones: set[str] = set()
        self._jobs: set[str] = set()
        shop = Shop.current()
        letterhead = [shop.name, *shop.address.splitlines()]
        self._own = set(map(_folded, letterhead))
        self._own_phones = {_digits(line)[-_TELLING_DIGITS:] for line in letterhead}
        self._read()

    def _read(self) -> None:
        customers = Customer.objects.filter(is_erased=False)
        for name, email, phone, address in customers.values_list("name", "email", "phone", "address"):
            self._add_name(name, "a customer's name")
            self._add(email, "a customer's e-mail address")
            self._add_phone(phone)
            self._add_address(address)
        said = (GoAhead.objects.values_list("said_by", flat=True), Quote.objects.values_list("decided_by", flat=True))
        for name in {name for names in said for name in names}:
            self._add_name(name, "a name of who spoke for a customer")
        for name, address in set(Invoice.objects.values_list("buyer_name", "buyer_address")):
            self._add_name(name, "a name on an invoice")
            self._add_address(address)
        for number, serial in Job.objects.values_list("number", "serial"):
            self._jobs.add(number)
            if sum(map(len, _folded(serial))) >= _LEAST_SERIAL:
                self._add(serial, "a watch's serial number")

    def _add(self, text, what):
        folded = _folded(text)
        if folded and folded not in self._own:
            self._phrases[folded[0]].append((folded, what))

    def _add_name(self, name, what):
        if _folded(name) in self._own or name.startswith("erased"):
            return
        if len(run := "".join(name.split())) > 1 and _WITHOUT_GAPS.fullmatch(run):
            self._runs[run] = what
            return
        words = _folded(name)
        if len(words) > 1:
            self._add(name, what)
        self._names |= {word: f"part of {what}" if len(words) > 1 else what for word in words if _is_telling(word)}

    def _add_phone(self, phone):
        digits = _digits(phone)[-_TELLING_DIGITS:]
        if len(digits) >= _LEAST_DIGITS and digits not in self._own_phones:
            self._phones.add(digits)

    def _add_address(self, address):
        for line in address.splitlines():
            words = _folded(line)
            if any(map(str.isdigit, line)) and any(map(str.isalpha, line)) and len(words) > 1:
                self._add(line, "a customer's address")

    def hits(self, text: str) -> Iterator[Hit]:
        """Everything personal in a text, each once, in its order."""
        plain = _INVISIBLE.sub("", unicodedata.normalize("NFC", text))
        yield from dict.fromkeys([*self._spoken(plain), *self._numbers(plain), *self._without_gaps(plain)])

    def _spoken(self, text):
        words = list(_words_of(text))
        spans = [match.span() for match in _WORD.finditer(text)]
        gaps = [bool(_GAP.fullmatch(text, end, start)) for (_, end), (start, _) in pairwise(spans)]
        at = 0
        while at < len(words):
            word, is_name = words[at]
            long = max(self._matching(words, at, gaps), key=lambda phrase: len(phrase[0]), default=None)
            if long:
                yield Hit(" ".join(text[spans[at][0] : spans[at + len(long[0]) - 1][1]].split()), long[1])
                at += len(long[0])
                continue
            if is_name and word in self._names:
                yield Hit(text[slice(*spans[at])], self._names[word])
            at += 1

    def _matching(self, words, at, gaps):
        for phrase, what in self._phrases.get(words[at][0], ()):
            last = at + len(phrase)
            if tuple(word for word, _ in words[at:last]) == phrase and all(gaps[at : last - 1]):
                yield phrase, what

    def _numbers(self, text):
        for match in _DIGITS.finditer(text) if self._phones else ():
            digits = _digits(match.group())
            is_known = any(digits[-long:] in self._phones for long in range(_LEAST_DIGITS, _TELLING_DIGITS + 1))
            if is_known and not _DAY.match(match.group()):
                yield Hit(match.group(), "a customer's phone number")
        for match in _JOB_NUMBER.finditer(text):
            if re.sub(r"\D", "-", match.group()) in self._jobs:
                yield Hit(match.group(), "a job's number")

    def _without_gaps(self, text):
        for match in _WITHOUT_GAPS.finditer(text) if self._runs else ():
            run = match.group()
            for start in range(len(run)):
                for end in range(start + 2, min(len(run), start + _LONGEST_RUN) + 1):
                    if what := self._runs.get(run[start:end]):
                        yield Hit(run[start:end], what)


def words_in(texts: Iterable[str]) -> set[str]:
    """The words of some texts, folded as the keys of hits are."""
    return {word for text in texts for word, _ in _words_of(text)}


def _words_of(text):
    """(word, whether it is written as a name is) of a text, folded."""
    return [(word.casefold(), not word.islower()) for word in _WORD.findall(unicodedata.normalize("NFC", text))]


def _folded(text):
    return tuple(word for word, _ in _words_of(text))


def _is_telling(word):
    return len(word) >= _LEAST_WORD and not word.isdigit()


def _digits(text):
    return re.sub(r"\D", "", text)
