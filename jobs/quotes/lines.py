"""The lines that a quote begins with: standing work, parts of the pairing, remedies and disclosures of its report."""

from jobs.models import QuoteLine
from jobs.money.sums import MOST_MONEY, part_price, work_price
from jobs.options.choosing import report_of
from jobs.options.keeping import is_own
from jobs.quotes.customer_words import line_for_customer
from jobs.quotes.minutes import STANDING, estimate
from parts.rules.remedy_minutes import in_standing_work, remedy_minutes

_PARTS = {"movement": "Movement", "hands": "New hands", "crown": "New crown", "stem": "New stem"}


def proposed_lines(part, option, shop):
    """The lines of one option, in the order of the work; disclosures come last."""
    report, rows = report_of(option), []
    movement = option.pairing.movement
    for kind, (text, _) in STANDING.items():
        known = estimate(kind, case_family=option.job.case_family, movement=movement)
        rows.append({"kind": "work", "text": text, "minutes": known.minutes, "basis": known.in_words})
    for name, words, bought in _new_parts(option.pairing):
        row = {"kind": "part", "text": f"{words}: {bought.name}", "bought": name}
        rows.append(row | _cost_of(bought, shop, name != "hands" or bought == option.pairing.hands))
    for check, remedy in report.asked_for if report else ():
        if row := _remedy_row(check, remedy):
            rows.append(row)
    rows.sort(key=lambda row: ("work", "part", "accept").index(row["kind"]))
    lines = [QuoteLine(part=part, position=i, tax_rate=shop.tax_rate, **row) for i, row in enumerate(rows, start=1)]
    for line in lines:
        if line.minutes is not None:
            line.price = work_price(line.minutes, shop.hourly_rate, shop.currency)
    return lines


def _new_parts(pairing):
    """What is bought, as (name of the part, words, record).

    A single hand from a set that was made for this job, and is no copy, is the watch's own.
    """
    for name, words in _PARTS.items():
        if (bought := getattr(pairing, name)) is not None:
            yield name, words, bought
        for field, hand_set in pairing.hand_sets.items() if name == "hands" else ():
            if field != "hands" and not is_own(hand_set):
                yield name, f"New {field.partition('_')[0]} hand", hand_set


def _cost_of(bought, shop, is_whole):
    """What a part costs as the library has it, with the shop's mark-up; that of a hand set is not one hand's."""
    if bought.cost is None or not is_whole:
        return {"basis": "enter its cost"}
    price = part_price(bought.cost, shop.mark_up, shop.currency)
    basis = "cost from the parts library"
    return {"cost": bought.cost, "price": price if price <= MOST_MONEY else None, "basis": basis}


def _remedy_row(check, remedy):
    """A remedy as a line; None where the standing work holds it already."""
    row = {"kind": remedy.kind, "text": line_for_customer(check.key, remedy), "from_check": check.key}
    if in_standing_work(check.key):
        basis = f"{remedy.text} Material only; labour is in the routine work"
        return row | {"basis": basis} if remedy.kind == "part" else None
    if remedy.kind == "work":
        return row | {"minutes": remedy_minutes(check.key), "basis": f"{remedy.text} Default time"}
    return row | {"basis": remedy.text} if remedy.kind == "part" else row
