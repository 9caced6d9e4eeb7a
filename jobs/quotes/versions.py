"""Quotes: proposed from the fit report, versioned, sent and frozen, decided."""

from __future__ import annotations

import datetime as dt
from collections import Counter
from collections.abc import Collection, Iterable
from dataclasses import replace
from datetime import timedelta
from string import ascii_uppercase
from typing import TYPE_CHECKING

from django.db import transaction
from django.utils import timezone

from jobs.history import record
from jobs.language.choices import PLAIN, speaking
from jobs.models import Event, Invoice, Job, Order, Quote, QuoteLine, QuotePart, Shop
from jobs.orders import MADE_HERE, is_wanting
from jobs.photos.storing import store_signed
from jobs.quotes.composed import said_in, say
from jobs.quotes.customer_words import option_title
from jobs.quotes.lines import proposed_lines
from jobs.stock import has_from_drawer
from parts.library.picker import kind_of

if TYPE_CHECKING:
    from django.contrib.auth.models import User

    from jobs.models import Option
    from parts.tools.pictures import Kept


class NotReady(Exception):
    """A draft that cannot go out yet; says what is to be done."""


class Unpriced(NotReady):
    """A quote cannot go out while lines have no price; says which."""


class Frozen(Exception):
    """A sent quote is not changed; make the next version."""


@transaction.atomic
def propose(*, job: Job, options: Iterable[Option], by: User) -> Quote:
    """A new draft version for one or more options side by side: standing work, the report's remedies, disclosures.

    It is written in the customer's language.
    """
    shop, quote = Shop.current(), empty_draft(job=job, by=by)
    priced = QuoteLine.objects.filter(part__quote__job=job).exclude(price=None).select_related("part__quote")
    known = {line.text: line for line in priced.order_by("part__quote__version", "pk")}
    with speaking(quote.language):
        for position, (option, words) in enumerate(_titled(options), start=1):
            part = QuotePart.objects.create(
                quote=quote,
                option=option,
                title=str(words or option.pairing.name),
                composed=words and words.facts,
                position=position,
            )
            QuoteLine.objects.bulk_create(_priced_as_before(proposed_lines(part, option, shop), known))
    return quote


def _priced_as_before(lines, known):
    """The lines, those without a price at what the same words cost in an earlier version of the job's quotes."""
    for line in lines:
        if line.price is None and (before := known.get(line.text)):
            line.cost, line.price = before.cost, before.price
            line.basis = f"As in version {before.part.quote.version}"
    return lines


def _titled(options):
    """Each option with its title in the customer's words, lettered where several would read alike."""
    titled = [(option, option_title(option.pairing)) for option in options]
    counts = Counter(words.message for _, words in titled if words)
    letters = {message: iter(ascii_uppercase) for message, count in counts.items() if count > 1}
    for option, words in titled:
        letter = next(letters[words.message], "") if words and words.message in letters else ""
        yield option, replace(words, letter=letter) if letter else words


@transaction.atomic
def empty_draft(*, job: Job, by: User) -> Quote:
    """A new draft version on the shop's terms of today, without a line yet."""
    quote = _next_version(job, Shop.current())
    record(job=job, by=by, kind=Event.Kind.QUOTE_DRAFTED, data=_facts(quote))
    return quote


def _facts(quote):
    """What the history keeps of a quote; none of its sums."""
    return {"quote": quote.pk, "version": quote.version}


def _next_version(job, shop, **copied):
    Job.objects.select_for_update().get(pk=job.pk)
    last = job.quotes.order_by("-version").first()
    with speaking(job.customer.language):
        title = job.title
    settings = {
        "title": title,
        "language": job.customer.language,
        "currency": shop.currency,
        "tax_inclusive": shop.tax_inclusive,
        "tax_by_line": shop.tax_by_line,
        "deposit": shop.deposit,
        "valid_until": timezone.localdate() + timedelta(days=shop.valid_days),
    }
    return Quote.objects.create(job=job, version=last.version + 1 if last else 1, **(settings | copied))


@transaction.atomic
def send(*, quote: Quote, by: User) -> Quote:
    """Freeze a draft as it goes out; the job waits for the customer. Raises Frozen for one that is out, NotReady."""
    quote = Quote.objects.select_for_update().get(pk=quote.pk)
    if quote.is_frozen:
        raise Frozen(f"{quote} is already sent.")
    unpriced = QuoteLine.objects.filter(part__quote=quote, price=None).exclude(kind=QuoteLine.Kind.ACCEPT)
    if names := list(unpriced.values_list("text", flat=True)):
        raise Unpriced(f"No price for: {'; '.join(names)}. Enter one (0 if free) and save.")
    if quote.valid_until < timezone.localdate():
        raise NotReady(f"The valid-until date, {quote.valid_until:%-d %b %Y}, has passed. Set a later one and save.")
    if empty := quote.parts.filter(lines=None).first() or (not quote.parts.exists() and quote):
        raise NotReady(f"{empty} has no line yet. Enter one and save.")
    quote.state, quote.sent = Quote.State.SENT, timezone.now()
    quote.save()
    Job.objects.filter(pk=quote.job_id).update(waits_for=Job.WaitsFor.CUSTOMER)
    record(job=quote.job, by=by, kind=Event.Kind.QUOTE_SENT, data=_facts(quote))
    return quote


@transaction.atomic
def next_version(*, quote: Quote, by: User) -> Quote:
    """A draft with everything of a frozen quote, as its next version, in the language that the customer has now."""
    copied = {
        name: getattr(quote, name)
        for name in ("title", "currency", "tax_inclusive", "tax_by_line", "discount", "deposit")
    }
    made = _next_version(quote.job, Shop.current(), note=quote.note, **copied)
    for part in quote.parts.prefetch_related("lines"):
        lines = list(part.lines.all())
        say((part, *lines), language=made.language, written=quote.language)
        part.pk, part._state.adding, part.quote, part.accepted = None, True, made, False
        part.save()
        for line in lines:
            line.pk, line._state.adding, line.part, line.taken = None, True, part, True
        QuoteLine.objects.bulk_create(lines)
    facts = _facts(made) | {"from_version": quote.version}
    record(job=quote.job, by=by, kind=Event.Kind.QUOTE_DRAFTED, data=facts)
    return made


class Expired(Exception):
    """The quote no longer holds; say so to accept it all the same."""


@transaction.atomic
def accept(
    *,
    quote: Quote,
    part: QuotePart,
    taken: Collection[QuoteLine],
    by: User,
    said_by: str,
    how: str,
    on: dt.date,
    note: str = "",
    signature: Kept | None = None,
    although_expired: bool = False,
) -> Quote:
    """Record the customer's yes to one way of one version; `taken` are the optional lines that were chosen.

    `signature` is the picture of the signed paper.

    Raises Frozen for a quote that is not out, or where another version was accepted, Expired past its date.
    """
    quote = _decidable(quote)
    if part.quote_id != quote.pk:
        raise Frozen(f"{part} is not an option of {quote}.")
    if on > quote.valid_until and not although_expired:
        raise Expired(
            f"{quote} was valid until {quote.valid_until:%-d %b %Y}. Tick “accept although it has expired” to go on."
        )
    if other := quote.job.quotes.filter(state=Quote.State.ACCEPTED).first():
        raise Frozen(f"{other} is accepted already. Undo that first.")
    for line in part.lines.filter(optional=True):
        line.taken = line.pk in taken
        line.save(update_fields=["taken"])
    part.accepted = True
    part.save(update_fields=["accepted"])
    _decide(quote, Quote.State.ACCEPTED, by, said_by, how, on, note, signature)
    for line in part.lines.filter(kind=QuoteLine.Kind.PART, taken=True).exclude(from_check__in=MADE_HERE):
        _order(quote.job, line, _library_part(part, line))
    waits_for = Job.WaitsFor.PARTS if is_wanting(quote.job) else Job.WaitsFor.ME
    Job.objects.filter(pk=quote.job_id).update(waits_for=waits_for)
    return quote


def _library_part(part, line):
    """The part of the library that a line offers; None for what is in no library."""
    return getattr(part.option.pairing, line.bought, None) if part.option and line.bought else None


def _order(job, line, bought):
    """Note a part to buy in the bench's words, by its name and number in the library; not where it is at hand."""
    words = said_in(PLAIN, line.text, line.composed, line.part.quote.language)
    text = (f"{words}: {bought.name}" if bought else words)[: Order._meta.get_field("text").max_length]
    facts = _facts_of(bought) if bought else {}
    if not (bought and has_from_drawer(job, bought)) and not job.orders.filter(text=text).exists():
        Order.objects.create(job=job, text=text, **facts)


def _facts_of(bought):
    """Which part of the library a part to buy is, and who sells it."""
    supplier = " ".join(filter(None, (bought.supplier, bought.supplier_number)))[:120]
    return {"kind": kind_of(type(bought)).slug, "part": bought.pk, "supplier": supplier}


@transaction.atomic
def refuse(
    *, quote: Quote, by: User, said_by: str, how: str, on: dt.date, note: str = "", signature: Kept | None = None
) -> None:
    """Record the customer's no."""
    quote = _decidable(quote)
    _decide(quote, Quote.State.REFUSED, by, said_by, how, on, note, signature)
    Job.objects.filter(pk=quote.job_id).update(waits_for=Job.WaitsFor.ME)


def _decidable(quote):
    quote = Quote.objects.select_for_update().select_related("job").get(pk=quote.pk)
    if quote.state != Quote.State.SENT:
        raise Frozen(f"{quote} is {quote.get_state_display()}; only a sent one can be answered.")
    return quote


def _decide(quote, state, by, said_by, how, on, note, signature):
    quote.state, quote.decided_by, quote.decided_how = state, said_by, how
    quote.decided_on, quote.decision_note = on, note
    quote.save()
    kind = Event.Kind.QUOTE_ACCEPTED if state == Quote.State.ACCEPTED else Event.Kind.QUOTE_REFUSED
    record(job=quote.job, by=by, kind=kind, data=_facts(quote), after=said_by)
    if signature:
        store_signed(quote=quote, picture=signature, by=by)


@transaction.atomic
def undo_answer(*, quote: Quote, by: User) -> None:
    """Undo a recorded answer; the quote is out again, and the job waits for the customer. Raises Frozen."""
    quote = Quote.objects.select_for_update().select_related("job").get(pk=quote.pk)
    if quote.state not in (Quote.State.ACCEPTED, Quote.State.REFUSED):
        raise Frozen(f"{quote} is {quote.get_state_display()}; there is no answer to undo.")
    if invoice := Invoice.standing(quote.job):
        raise Frozen(f"{invoice} rests on this answer. Issue a credit note for all of it first.")
    facts = _facts(quote) | {"state": quote.state}
    quote.state = Quote.State.SENT
    quote.save(update_fields=["state"])
    quote.parts.update(accepted=False)
    QuoteLine.objects.filter(part__quote=quote).update(taken=True)
    Job.objects.filter(pk=quote.job_id).update(waits_for=Job.WaitsFor.CUSTOMER)
    record(job=quote.job, by=by, kind=Event.Kind.ANSWER_UNDONE, data=facts)
