"""A person's traces in texts: name, e-mail, phone and address, found however they are spaced, and taken out.

In the person's own records single words of the name count too, as a name is written: as typed, with a capital, or in
capitals. In others' records only what is sure to mean this person does.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from jobs.models import Customer

GONE = "[erased]"
_TELLING = 8
"""Last digits of a phone number that tell whose it is; those before them are written or left out."""
_BETWEEN = r"\s./()-"


class Traces:
    """What to look for; `own` for the person's own records, `elsewhere` for all others."""

    def __init__(self, customer: Customer, *, said_by: Iterable[str] = (), shared: Iterable[str] = ()) -> None:
        """`said_by` are the names of who spoke for them; `shared` are texts that another customer has as well."""
        lines = [line.strip(" ,") for line in customer.address.splitlines()]
        names = [customer.name, *said_by]
        words = {word for name in names for word in re.findall(r"[^\W\d_]{3,}", name)}
        own = [_spaced(text) for text in (*names, *lines, customer.email, _flat(customer.address)) if len(text) > 3]
        own += [_number(customer.phone)] + [_as_a_name(word) for word in words]
        sure = [customer.name] if len(customer.name) > 5 else []
        sure += [text for text in (customer.email, *lines[:1], _flat(customer.address)) if len(text) > 7]
        shared = {_flat(text).casefold() for text in shared}
        elsewhere = [_spaced(text) for text in sure if _flat(text).casefold() not in shared]
        if not any(re.fullmatch(_number(customer.phone), text) for text in shared):
            elsewhere.append(_number(customer.phone))
        self.own, self.elsewhere = _either(own), _either(elsewhere)


def without(pattern, value):
    """A text, or texts within lists and dictionaries, with what the pattern finds taken out."""
    if isinstance(value, str):
        return pattern.sub(GONE, value)
    if isinstance(value, list):
        return [without(pattern, item) for item in value]
    if isinstance(value, dict):
        return {key: without(pattern, item) for key, item in value.items()}
    return value


def _flat(text):
    return " ".join(text.split())


def _spaced(text):
    """The text however it is capitalised, any blanks, commas or line ends between its words."""
    words = r"[\s,]+".join(re.escape(word) for word in re.split(r"[\s,]+", text) if word)
    return f"(?i:{words})"


def _number(text):
    """The number with its country's code or without, however it is grouped; nothing for fewer than six digits."""
    digits = re.sub(r"\D", "", text)[-_TELLING:]
    return rf"(?:\+?[\d(][\d{_BETWEEN}]{{0,9}})?" + f"[{_BETWEEN}]*".join(digits) if len(digits) > 5 else ""


def _as_a_name(word):
    return "|".join(re.escape(spelling) for spelling in {word, word.capitalize(), word.upper()})


def _either(patterns):
    longest_first = sorted(filter(None, patterns), key=len, reverse=True)
    return re.compile(rf"(?<!\w)(?:{'|'.join(longest_first)})(?!\w)" if longest_first else r"(?!)")
