"""The lines that a quote begins with: routine work, parts of the pairing, remedies and disclosures of its report.

A line is in the customer's words and language; what the bench calls it stands in its `basis`.
"""

from django.utils.translation import gettext_noop as _

from jobs.condition import asked_at_intake
from jobs.models import QuoteLine
from jobs.money.sums import MOST_MONEY, part_price, work_price
from jobs.options.choosing import report_of
from jobs.options.keeping import is_own
from jobs.quotes.composed import Composed
from jobs.quotes.customer_words import LIBRARY_PARTS, hands_of_set, line_for_customer, movement_words, routine_work
from jobs.quotes.minutes import STANDING, estimate
from parts.models.pairing import OTHER_HANDS
from parts.rules.remedy_minutes import in_standing_work, remedy_minutes

_FIT_THE_MOVEMENT = ("holder-wall", "stem-height")
"""The checks whose ring and spacer the routine work names: they are no lines of their own."""
_INSTEAD = {"stem-length": ("stem",), "stem-thread": ("stem", "crown"), "crown-tube": ("crown",)}
"""The checks that ask for another part where the chosen one will not do: it is bought in place of these."""
_DIAGNOSIS = _("Diagnosis, as agreed")
_FEE = "Agreed at intake; take the line out where the fee is waived with the work"
_BASIS = QuoteLine._meta.get_field("basis").max_length


def proposed_lines(part, option, shop):
    """The lines of one option, in the order of the work and the language that is spoken now; disclosures come last."""
    report, rows = report_of(option), []
    movement = option.pairing.movement
    for kind in STANDING:
        known = estimate(kind, case_family=option.job.case_family, movement=movement)
        rows.append(
            {"kind": "work", "words": routine_work(kind, report), "minutes": known.minutes, "basis": known.in_words}
        )
    for name, words, bought in _new_parts(option.pairing, report):
        row = {"kind": "part", "words": Composed(words), "bought": name}
        rows.append(row | _cost_of(bought, shop, name not in OTHER_HANDS))
    rows += _asked_rows(option)
    for check, remedy in report.asked_for if report else ():
        if row := _remedy_row(check, remedy):
            rows.append(row)
    rows.sort(key=lambda row: ("work", "part", "accept").index(row["kind"]))
    for row in rows:
        words = row.pop("words")
        row |= {"text": str(words), "composed": words.facts}
    lines = [QuoteLine(part=part, position=i, tax_rate=shop.tax_rate, **row) for i, row in enumerate(rows, start=1)]
    for line in lines:
        line.basis = line.basis[:_BASIS]
        if line.minutes is not None and line.price is None:
            line.price = work_price(line.minutes, shop.hourly_rate, shop.currency)
    return lines


def _asked_rows(option):
    """What was agreed and found at intake: the diagnosis, and what the watch's condition asks for."""
    if fee := option.job.diagnosis_fee:
        yield {"kind": "work", "words": Composed(_DIAGNOSIS), "price": fee, "basis": _FEE}
    for asked in asked_at_intake(option.job):
        if asked.message == LIBRARY_PARTS.get(asked.condition.subject) and getattr(option.pairing, "crown", None):
            continue
        kind = "part" if asked.minutes is None else "work"
        basis = f"{asked.seen}; {'enter its cost' if kind == 'part' else 'default time'}"
        row = {"kind": kind, "words": Composed(asked.message), "optional": asked.optional, "basis": basis}
        yield row if asked.minutes is None else row | {"minutes": asked.minutes}


def _new_parts(pairing, report=None):
    """What is bought, as (field of the pairing, words, record).

    The watch's own parts are none, nor those in whose place the report asks for another.
    """
    asked = report.asked_for if report else ()
    others = {name for check, remedy in asked if remedy.kind == "part" for name in _INSTEAD.get(check.key, ())}
    parts = [("movement", movement_words(pairing.movement), pairing.movement)]
    parts += [(field, hands_of_set(pairing, field), hand_set) for field, hand_set in pairing.hand_sets.items()]
    parts += [(name, LIBRARY_PARTS[name], getattr(pairing, name)) for name in LIBRARY_PARTS]
    bought = [(name, words, part) for name, words, part in parts if part is not None and words and name not in others]
    return [(name, words, part) for name, words, part in bought if not is_own(part, case=pairing.case)]


def what_it_takes(option, report):
    """What an option takes beside routine work, as a customer reads it, each once: ring and spacer, parts, remedies."""
    words = [routine_work("holder", report)]
    words += [Composed(each) for name, each, _ in _new_parts(option.pairing, report) if name != "movement"]
    for check, remedy in report.asked_for if report else ():
        if remedy.kind != "accept" and (row := _remedy_row(check, remedy)):
            words.append(row["words"])
    return list({(each.message, *each.values.values()): each for each in words}.values())


def _cost_of(bought, shop, is_whole):
    """What a part costs as the library has it, with the shop's mark-up; that of a hand set is not one hand's."""
    if bought.cost is None or not is_whole:
        return {"basis": f"{bought.name}; enter its cost"}
    price = part_price(bought.cost, shop.mark_up, shop.currency)
    basis = f"{bought.name}; cost from the parts library"
    if bought.supplier:
        basis = f"{basis}; from {bought.supplier} {bought.supplier_number}".rstrip()
    return {"cost": bought.cost, "price": price if price <= MOST_MONEY else None, "basis": basis}


def _remedy_row(check, remedy):
    """A remedy as a line; None where the routine work holds it already."""
    row = {"kind": remedy.kind, "words": line_for_customer(check.key, remedy), "from_check": check.key}
    if check.key in _FIT_THE_MOVEMENT and remedy.kind != "accept":
        return None
    if in_standing_work(check.key):
        basis = f"{remedy.text} Material only; labour is in the routine work"
        return row | {"basis": basis} if remedy.kind == "part" else None
    if remedy.kind == "work":
        return row | {"minutes": remedy_minutes(check.key), "basis": f"{remedy.text} Default time"}
    return row | {"basis": remedy.text} if remedy.kind == "part" else row
