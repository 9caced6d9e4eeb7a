"""Quotes: proposed from the report, frozen when sent, answered once."""

from datetime import date, timedelta
from decimal import Decimal as D

import pytest
from django.utils import timezone

from jobs import stock
from jobs.models import Job, Order, Quote, QuoteLine, Shop, WorkTime
from jobs.options import choosing
from jobs.quotes import versions
from jobs.quotes.composed import said_in
from jobs.quotes.customer_words import option_title
from jobs.quotes.differences import differences, terms_changed
from jobs.quotes.minutes import STANDING, estimate
from jobs.quotes.ways import ways_of
from tests.factories import HandSetFactory, JobFactory, MovementFactory, PairingFactory

pytestmark = pytest.mark.django_db


@pytest.fixture
def job(owner):
    Shop.objects.create(hourly_rate=D(72), currency="EUR", tax_rate=D(19), deposit=D(30))
    job = JobFactory()
    pairing = PairingFactory(name="Deep", case__stem_axis_depth=2.9, case__back_depth=5.0)
    choosing.choose(option=choosing.add_option(job=job, pairing=pairing, by=owner), by=owner)
    return job


@pytest.fixture
def quote(job, owner):
    return versions.propose(job=job, options=[choosing.chosen_option(job)], by=owner)


def price_all(quote, price="10.00"):
    QuoteLine.objects.filter(part__quote=quote, price=None).update(price=D(price))


def sent(quote, owner):
    price_all(quote)
    return versions.send(quote=quote, by=owner)


def said(owner, **more):
    return {"by": owner, "said_by": "O. Reed", "how": "phone", "on": timezone.localdate()} | more


def test_a_quote_holds_the_standing_work_the_parts_and_the_remedies(quote):
    lines = list(quote.parts.get().lines.all())
    texts = [line.text for line in lines]
    assert [line.minutes for line in lines[: len(STANDING)]] == list(STANDING.values())
    assert lines[0].price == D("36.00")
    assert texts[1] == "Make a spacer, so that the crown lines up, and fit the new movement"
    assert [text for text in texts if "holder" in text.lower() or "spacer" in text.lower()] == [texts[1]]
    parts = [(line.text, line.price) for line in lines if line.kind == "part"]
    assert parts == [(f"New {words}", None) for words in ("quartz movement", "hands", "crown", "stem")]
    assert quote.valid_until == timezone.localdate() + timedelta(days=30)
    assert quote.deposit == 30


def test_a_part_with_a_cost_is_quoted_with_the_shops_mark_up(job, owner):
    movement = choosing.chosen_option(job).pairing.movement
    movement.cost, movement.supplier, movement.supplier_number = D("20.15"), "Tern Supplies", "T-4"
    movement.save()
    quote = versions.propose(job=job, options=[choosing.chosen_option(job)], by=owner)
    line = quote.parts.get().lines.get(bought="movement")
    assert (line.cost, line.price, line.basis) == (
        D("20.15"),
        D("26.20"),
        f"{movement.name}; cost from the parts library; from Tern Supplies T-4",
    )
    assert quote.parts.get().lines.get(bought="crown").cost is None
    sent(quote, owner)
    versions.accept(quote=quote, part=quote.parts.get(), taken=[], **said(owner))
    order = Order.objects.get(text=f"New quartz movement: {movement.name}")
    assert (order.supplier, order.kind, order.part) == ("Tern Supplies T-4", "movements", movement.pk)


def test_the_cost_of_a_set_is_not_that_of_one_hand(job, owner):
    pairing = choosing.chosen_option(job).pairing
    pairing.hands.cost = D(30)
    pairing.hands.save()
    pairing.seconds_hand_from = HandSetFactory(cost=D(12))
    pairing.save()
    quote = versions.propose(job=job, options=[choosing.chosen_option(job)], by=owner)
    lines = quote.parts.get().lines.filter(bought__in=["hands", "seconds_hand_from"])
    assert [(line.text, line.cost) for line in lines] == [
        ("New hour and minute hands", D(30)),
        ("New seconds hand", None),
    ]


def test_a_single_hand_is_ordered_from_where_it_is_sold(job, owner):
    pairing = choosing.chosen_option(job).pairing
    pairing.seconds_hand_from = HandSetFactory(name="Baton", supplier="Tern Supplies")
    pairing.save()
    quote = versions.propose(job=job, options=[choosing.chosen_option(job)], by=owner)
    sent(quote, owner)
    versions.accept(quote=quote, part=quote.parts.get(), taken=[], **said(owner))
    assert Order.objects.get(supplier="Tern Supplies").text == "New seconds hand: Baton"


def test_the_watchs_own_parts_are_nothing_to_buy(job, owner):
    pairing = choosing.chosen_option(job).pairing
    for name in ("crown", "hands"):
        part = getattr(pairing, name)
        part.made_for = job.number
        part.save()
    quote = versions.propose(job=job, options=[choosing.chosen_option(job)], by=owner)
    parts = quote.parts.get().lines.filter(kind="part")
    assert [line.text for line in parts] == ["New quartz movement", "New stem"]


@pytest.mark.parametrize(
    ("changes", "there"),
    [
        ({}, ["New crown", "New stem"]),
        ({"stem__length": 3.0}, ["New crown", "Stem of the right length"]),
        ({"stem__thread": 0.7}, ["Stem and crown with matching threads"]),
    ],
)
def test_a_part_in_whose_place_another_is_asked_for_is_not_bought(owner, changes, there):
    job = JobFactory()
    choosing.choose(option=choosing.add_option(job=job, pairing=PairingFactory(**changes), by=owner), by=owner)
    quote = versions.propose(job=job, options=[choosing.chosen_option(job)], by=owner)
    texts = quote.parts.get().lines.filter(kind="part").values_list("text", flat=True)
    assert sorted(text for text in texts if "tem" in text or "rown" in text) == there


@pytest.mark.parametrize(
    ("case", "words"),
    [
        ({"case__bore_diameter": 28.0}, "Make a holder ring for your case and fit the new movement"),
        ({}, "Fit the new movement in your case"),
    ],
)
def test_only_what_will_be_made_is_named(owner, case, words):
    job = JobFactory()
    choosing.choose(option=choosing.add_option(job=job, pairing=PairingFactory(**case), by=owner), by=owner)
    quote = versions.propose(job=job, options=[choosing.chosen_option(job)], by=owner)
    assert words in quote.parts.get().lines.values_list("text", flat=True)


def test_the_spacers_work_is_not_counted_twice(quote):
    assert not quote.parts.get().lines.filter(from_check="stem-height").exists()


def test_two_options_stand_side_by_side(job, owner):
    choosing.add_option(job=job, pairing=PairingFactory(name="Plain"), by=owner)
    quote = versions.propose(job=job, options=list(job.options.select_related("job", "pairing")), by=owner)
    assert [part.option.pairing.name for part in quote.parts.all()] == ["Deep", "Plain"]
    assert [part.title for part in quote.parts.all()] == [
        "Quartz movement without date (A)",
        "Quartz movement without date (B)",
    ]
    part = quote.parts.last()
    assert said_in("de", part.title, part.composed, "en") == "Quarzwerk ohne Datum (B)"


def test_what_was_priced_in_an_earlier_version_is_priced_so_again(quote, owner):
    QuoteLine.objects.filter(text="New quartz movement").update(cost=D(12), price=D(18))
    again = versions.propose(job=quote.job, options=list(quote.job.options.select_related("job", "pairing")), by=owner)
    line = again.parts.get().lines.get(text="New quartz movement")
    assert (line.cost, line.price, line.basis) == (12, 18, "As in version 1")


def test_a_line_without_a_price_keeps_the_quote_here(quote, owner):
    with pytest.raises(versions.Unpriced, match="New quartz movement"):
        versions.send(quote=quote, by=owner)


def test_a_sent_quote_is_out_once_and_the_job_waits_for_the_customer(quote, owner):
    out = sent(quote, owner)
    out.job.refresh_from_db()
    assert (out.state, out.job.waits_for) == ("sent", "customer")
    with pytest.raises(versions.Frozen):
        versions.send(quote=quote, by=owner)


def test_the_next_version_tells_what_differs(quote, owner):
    out = sent(quote, owner)
    newer = versions.next_version(quote=out, by=owner)
    assert (newer.version, newer.state) == (2, "draft")
    line = newer.parts.get().lines.first()
    line.price = D("40.00")
    line.save()
    newer.parts.get().lines.last().delete()
    assert differences(out, newer) == [
        (line.text, D("36.00"), D("40.00")),
        ("The dial will lie 0.50 mm deeper below the rim.", D(0), None),
    ]
    assert out.parts.get().lines.first().price == D("36.00")


def test_the_next_version_is_on_the_terms_of_the_one_before_and_not_on_the_shops_of_today(quote, owner):
    terms = {"discount": D(5), "deposit": D(45), "tax_inclusive": not quote.tax_inclusive, "note": "For May."}
    Quote.objects.update(**terms, tax_by_line=not quote.tax_by_line)
    out = sent(Quote.objects.get(), owner)
    newer = versions.next_version(quote=out, by=owner)
    assert {name: getattr(newer, name) for name in terms} == terms
    assert newer.tax_by_line == out.tax_by_line


def test_acceptance_is_of_one_version_and_makes_the_orders(quote, owner):
    out = sent(quote, owner)
    optional = out.parts.get().lines.filter(kind="part").first()
    optional.optional = True
    optional.save()
    versions.accept(quote=out, part=out.parts.get(), taken=set(), **said(owner))
    out.refresh_from_db()
    assert (out.state, out.decided_by, out.parts.get().accepted) == ("accepted", "O. Reed", True)
    ordered = set(Order.objects.values_list("text", flat=True))
    pairing = out.parts.get().option.pairing
    assert ordered == {f"New {name}: {getattr(pairing, name).name}" for name in ("hands", "crown", "stem")}
    other = sent(versions.next_version(quote=out, by=owner), owner)
    with pytest.raises(versions.Frozen, match="version 1 is accepted already"):
        versions.accept(quote=other, part=other.parts.get(), taken=set(), **said(owner))


def test_an_expired_quote_is_accepted_only_when_it_is_said(quote, owner):
    out = sent(quote, owner)
    type(out).objects.update(valid_until=date(2026, 1, 1))
    with pytest.raises(versions.Expired, match="until 1 Jan 2026"):
        versions.accept(quote=out, part=out.parts.get(), taken=set(), **said(owner))
    versions.accept(quote=out, part=out.parts.get(), taken=set(), although_expired=True, **said(owner))
    out.refresh_from_db()
    assert out.state == "accepted"


def test_a_refusal_and_an_answer_taken_back(quote, owner):
    out = sent(quote, owner)
    versions.refuse(quote=out, **said(owner))
    out.refresh_from_db()
    assert out.state == "refused"
    versions.undo_answer(quote=out, by=owner)
    out.refresh_from_db()
    assert out.state == "sent"


def test_a_draft_cannot_be_answered(quote, owner):
    with pytest.raises(versions.Frozen, match="only a sent one"):
        versions.refuse(quote=quote, **said(owner))


def test_sums_leave_out_what_is_not_taken_and_what_is_accepted(quote):
    part = quote.parts.get()
    part.lines.all().delete()
    QuoteLine.objects.create(part=part, text="a", price=D("100.00"), tax_rate=D(19))
    QuoteLine.objects.create(part=part, text="b", price=D("50.00"), tax_rate=D(19), optional=True, taken=False)
    QuoteLine.objects.create(part=part, text="c", kind="accept")
    (way,) = ways_of(quote=quote)
    assert (way.sums.total, way.sums.tax, way.sums.deposit) == (D("100.00"), D("15.97"), D("30.00"))


def finished(owner, minutes, **facts):
    job = JobFactory(state="finished", **facts)
    stage = job.stages.get(kind="dial")
    stage.state = "done"
    stage.save()
    now = timezone.now()
    WorkTime.objects.create(stage=stage, started=now - timedelta(minutes=minutes), ended=now, by=owner)
    return job


def test_times_come_from_the_bench_rules_until_three_jobs_are_finished(owner):
    assert estimate("dial").basis == "default, until 3 jobs are finished"
    for minutes in (20, 30, 70):
        finished(owner, minutes)
    known = estimate("dial")
    assert (known.minutes, known.contingency, known.basis) == (30, 54, "median of 3 jobs, all finished jobs")
    assert estimate("hands").minutes == STANDING["hands"]


def test_a_job_that_was_not_finished_says_nothing_of_how_long_a_stage_takes(owner):
    for minutes in (20, 30):
        finished(owner, minutes)
    Job.objects.filter(pk=finished(owner, 70).pk).update(state="declined")
    assert estimate("dial").basis == "default, until 3 jobs are finished"


def test_what_80_percent_took_is_told_only_of_the_shops_own_jobs(owner):
    assert estimate("dial").in_words == "default, until 3 jobs are finished"
    for minutes in (20, 30, 70):
        finished(owner, minutes)
    assert estimate("dial").in_words == "median of 3 jobs, all finished jobs; 4 of 5 jobs took up to 54 min"


def test_the_difference_tells_equal_words_disclosures_and_terms(quote, owner):
    part = quote.parts.get()
    part.lines.all().delete()
    QuoteLine.objects.create(part=part, text="Close the collet.", price=D(10), position=1)
    QuoteLine.objects.create(part=part, text="Close the collet.", price=D(10), position=2, optional=True, taken=False)
    out = sent(quote, owner)
    newer = versions.next_version(quote=out, by=owner)
    assert (differences(out, newer), terms_changed(out, newer)) == ([], [])
    lines = newer.parts.get().lines
    assert all(line.taken for line in lines.all())
    lines.filter(position=2).update(price=D(12), optional=False, tax_rate=D(7))
    lines.create(text="A sliver will show.", kind="accept", position=3)
    newer.discount = D(5)
    assert differences(out, newer) == [("Close the collet.", D(10), D(12)), ("A sliver will show.", None, D(0))]
    assert terms_changed(out, newer) == [
        ("Discount, %", "0", "5"),
        ("Close the collet.: tax, %", "0", "7"),
        ("Close the collet.: optional", "yes", "no"),
    ]
    newer.note = "For May."
    assert [changed[1:] for changed in terms_changed(out, newer)][:2] == [("0", "5"), ("nothing", "For May.")]


def test_a_quote_that_has_run_out_or_is_empty_stays_here(quote, owner):
    price_all(quote)
    quote.valid_until = timezone.localdate() - timedelta(days=1)
    quote.save()
    with pytest.raises(versions.NotReady, match="Set a later one"):
        versions.send(quote=quote, by=owner)
    quote.valid_until = timezone.localdate()
    quote.save()
    quote.parts.get().lines.all().delete()
    with pytest.raises(versions.NotReady, match="has no line yet"):
        versions.send(quote=quote, by=owner)


def test_a_draft_has_no_answer_to_take_back(quote, owner):
    with pytest.raises(versions.Frozen, match="no answer to undo"):
        versions.undo_answer(quote=quote, by=owner)
    quote.refresh_from_db()
    assert quote.state == "draft"


def test_an_answer_taken_back_offers_every_choice_again(quote, owner):
    out = sent(quote, owner)
    out.parts.get().lines.filter(kind="part").update(optional=True)
    versions.accept(quote=out, part=out.parts.get(), taken=set(), **said(owner))
    versions.undo_answer(quote=out, by=owner)
    out.job.refresh_from_db()
    assert out.job.waits_for == "customer"
    assert not out.parts.get().lines.filter(taken=False).exists()


def test_the_way_of_another_quote_is_not_accepted(quote, owner):
    out = sent(quote, owner)
    other = versions.next_version(quote=out, by=owner)
    with pytest.raises(versions.Frozen, match="is not an option of"):
        versions.accept(quote=out, part=other.parts.get(), taken=set(), **said(owner))


def test_a_part_that_is_ordered_twice_does_not_stop_the_acceptance(quote, owner):
    out = sent(quote, owner)
    text = out.parts.get().lines.filter(kind="part").first().text
    Order.objects.bulk_create([Order(job=out.job, text=text), Order(job=out.job, text=text)])
    versions.accept(quote=out, part=out.parts.get(), taken=set(), **said(owner))
    assert Order.objects.filter(text=text).count() == 2


def test_what_lies_aside_for_the_job_is_not_ordered(quote, owner):
    out = sent(quote, owner)
    movement = out.parts.get().option.pairing.movement
    stock.count(kind="movements", part=movement, number=1, reason="counted", by=owner)
    stock.put_aside(job=out.job, kind="movements", part=movement, by=owner)
    versions.accept(quote=out, part=out.parts.get(), taken=set(), **said(owner))
    assert not Order.objects.filter(text__startswith="Movement:").exists()
    assert Order.objects.filter(text__startswith="New hands:").exists()


def test_a_quote_is_sent_and_accepted_up_to_and_on_its_last_day(quote, owner):
    today = timezone.localdate()
    price_all(quote)
    quote.valid_until = today
    quote.save()
    out = versions.send(quote=quote, by=owner)
    answer = said(owner) | {"on": today + timedelta(days=1)}
    with pytest.raises(versions.Expired):
        versions.accept(quote=out, part=out.parts.get(), taken=set(), **answer)
    assert versions.accept(quote=out, part=out.parts.get(), taken=set(), **answer | {"on": today}).state == "accepted"


def test_two_finished_jobs_are_no_history_yet(owner):
    for minutes in (20, 70):
        finished(owner, minutes)
    assert (estimate("dial").minutes, estimate("dial").jobs) == (STANDING["dial"], 0)


def test_the_next_version_of_an_accepted_quote_is_not_accepted_itself(quote, owner):
    out = sent(quote, owner)
    out.parts.get().lines.update(optional=True)
    versions.accept(quote=out, part=out.parts.get(), taken=set(), **said(owner))
    newer = versions.next_version(quote=out, by=owner)
    assert (newer.parts.get().accepted, out.parts.get().accepted) == (False, True)
    taken = [set(part.lines.values_list("taken", flat=True)) for part in (newer.parts.get(), out.parts.get())]
    assert taken == [{True}, {False}]


@pytest.mark.parametrize(("has_day", "shows"), [(False, "with date"), (True, "with day and date")])
def test_a_customer_reads_of_the_day_too(has_day, shows):
    pairing = PairingFactory(movement=MovementFactory(dated=True, has_day=has_day))
    assert str(option_title(pairing)) == f"Quartz movement {shows}"
