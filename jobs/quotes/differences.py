"""What differs between two versions of a quote."""

from collections import Counter
from decimal import Decimal

from jobs.models import Quote, QuoteLine
from jobs.money.sums import ZERO


def differences(old, new):
    """What the lines of a version add, drop and change against an older one: (text, price then, price now)."""
    before, after = _by_words(old), _by_words(new)
    keys = [*after, *(key for key in before if key not in after)]
    prices = [(key[1], _price(before.get(key)), _price(after.get(key))) for key in keys]
    return [line for line in prices if line[1] != line[2]]


def terms_changed(old, new):
    """What else differs from an older version: (what, then, now)."""
    changes = []
    for name in ("discount", "deposit", "tax_inclusive", "note"):
        then, now = (quote._meta.get_field(name).value_from_object(quote) for quote in (old, new))
        if then != now:
            changes.append((_quote_word(name), _word(then), _word(now)))
    before, after = _by_words(old), _by_words(new)
    for key in (key for key in after if key in before):
        for name in ("kind", "tax_rate", "optional"):
            then, now = getattr(before[key], name), getattr(after[key], name)
            if then != now:
                word = QuoteLine._meta.get_field(name).verbose_name
                changes.append((f"{key[1]}: {word}", _word(then), _word(now)))
    return changes


def _quote_word(name):
    return str(Quote._meta.get_field(name).verbose_name).capitalize()


def _word(value):
    if isinstance(value, bool):
        return "yes" if value else "no"
    return f"{value.normalize():f}" if isinstance(value, Decimal) else value or "nothing"


def _by_words(quote):
    """The lines of a quote by way and words; lines of the same words are told apart by their turn."""
    lines, turns = {}, Counter()
    for part in quote.parts.all():
        for line in part.lines.all():
            turns[part.position, line.text] += 1
            lines[part.position, line.text, turns[part.position, line.text]] = line
    return lines


def _price(line):
    """A line's price, 0 for what the customer accepts; None for no such line."""
    if line is None:
        return None
    return ZERO if line.kind == QuoteLine.Kind.ACCEPT else line.price
