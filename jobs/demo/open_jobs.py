"""The demo's jobs: invented customers, and watches at every point of their way through the workshop."""

from datetime import timedelta
from math import sin

from django.db import transaction
from django.utils import timezone

from jobs.demo import photos
from jobs.demo.people import visitor
from jobs.demo.taking import agreed, log, picture, put_back, sent_quote
from jobs.history import record
from jobs.invoices import payments
from jobs.invoices.account import saved_account
from jobs.invoices.issuing import Buyer
from jobs.job import state
from jobs.models import Event, GoAhead, Job, Order, Payment
from jobs.options import choosing
from jobs.orders import save_order
from jobs.papers.sending import send_invoice
from jobs.stages import progress, work_time
from jobs.stages.checklist import items_of
from jobs.timing import timing_runs

_JOBS = (
    # customer, family, watch, wish, pairing, stages done, waits for, logged days ago, promised in days, luminous
    ("Thea Lund", "Tollgate 40", "blue dial, crown at 4", "Date at 4 must stay.",
     "Tollgate 40, crown at 4", 7, "nothing", 24, None, "none"),
    ("Marit Holm", "Lanthorn 33", "gilt, a gift", "It should simply run.",
     "Lanthorn 33, straight swap", 6, "me", 15, 2, "none"),
    ("Ottilie Reed", "Saltmarsh 26", "ivory dial, small", "For her mother, easy to set.",
     "Saltmarsh 26, small two-hand", 0, "customer", 13, -3, "none"),
    ("Ottilie Reed", "Bramblegate 36", "cream dial, does not run", "Quartz with a date; dial and seconds hand stay.",
     "Bramblegate 36, new hands and its own seconds hand", 5, "me", 11, 6, "none"),
    ("Ivo Castle", "Quernstone 35", "grey dial", "Quartz; the dial must not sit deeper than now.",
     "Quernstone 35, spacer behind the dial", 2, "parts", 6, 9, "none"),
    ("Ben Alder", "Kelpmoor 38", "black dial, luminous plots", "A watch to wear at work again.",
     "Kelpmoor 38 with large date window", 0, "me", 1, 12, "aged"),
)  # fmt: skip
_ORDERS = {
    # by watch: text, supplier, expected in days, state
    "grey dial": (("Movement: Wick high posts", "Tollbridge Parts", 4, "ordered"),
                  ("Cell for it", "Tollbridge Parts", 4, "ordered")),
    "cream dial, does not run": (("Crystal gasket, 30.2 by 0.6 mm", "Saltreach Gaskets", -1, "ordered"),),
    "black dial, luminous plots": (("Strap, 20 mm, black", "", None, "wanted"),),
}  # fmt: skip

_INVOICED = "blue dial, crown at 4"
"""The watch whose quote is accepted, with a deposit paid and its invoice issued."""


@transaction.atomic
def fill_bench():
    """Log the demo's watches and take each as far as it has come."""
    by = visitor()
    for row in _JOBS:
        _take(by, *row)


def _take(by, name, family, watch, wish, pairing, done, waits, logged, days, paint):
    promised = timezone.localdate() + timedelta(days=days) if days is not None else None
    conditions = (("crystal", "worn", "fine scratches"), ("runs", "no", ""), ("water", "no", ""))
    facts = {"promised": promised, "luminous": paint}
    job, option = log(by, name, family, watch, wish, pairing, conditions, **facts)
    if waits in ("customer", "parts"):
        quote = sent_quote(job, option, by)
        quote.sent = timezone.now() - timedelta(days=max(logged - 2, 0))
        quote.save(update_fields=["sent"])
    for text, supplier, expected, how in _ORDERS.get(watch, ()):
        day = None if expected is None else timezone.localdate() + timedelta(days=expected)
        save_order(order=Order(job=job, text=text, supplier=supplier, expected=day, state=how), by=by)
    if watch == _INVOICED:
        _agree_and_take_deposit(job, option, name, by)
    state.wait_for(job=job, whom=waits, by=by)
    if done:
        said = GoAhead.objects.create(job=job, how="phone", said_by=name, on=timezone.localdate(), by=by)
        record(job=job, by=by, kind=Event.Kind.GO_AHEAD, data={"go_ahead": said.pk, "how": said.how}, after=name)
    report = choosing.report_of(choosing.chosen_option(job))
    for kind in progress.ORDER[1 : 1 + done]:
        _work(job, kind, report, by)
    _pictures(job, option.pairing, watch, done, by)
    if done >= len(progress.ORDER) - 1:
        state.close_job(job=job, state=Job.State.FINISHED, by=by)
    if watch == _INVOICED:
        _invoice(job, by)
    put_back(job, logged=logged)


def _agree_and_take_deposit(job, option, name, by):
    agreed(job, option, name, by)
    deposit = saved_account(job).deposit
    on = timezone.localdate() - timedelta(days=20)
    payments.take(payment=Payment(job=job, on=on, amount=deposit, how="card", purpose="deposit"), by=by)


def _invoice(job, by):
    customer, today = job.customer, timezone.localdate()
    buyer = Buyer(customer.name, customer.address, "IE")
    send_invoice(of=job, buyer=buyer, supplied=today, due_on=today + timedelta(days=14), by=by)


def _pictures(job, pairing, watch, done, by):
    """What is photographed on the way: the old movement, the ring tried in the bore, the hands set."""
    if done >= 1:
        picture(job, by, "teardown", "The old movement", photos.back(pairing, ring=False))
    if done >= 2:
        picture(job, by, "holder", "Ring tried in the bore", photos.back(pairing, ring=True))
    if done >= 4:
        picture(job, by, "hands", "Hands set at 12, then here", photos.front(pairing, watch, at=(1, 52, 24)))


def _work(job, kind, report, by):
    stage = job.stages.get(kind=kind)
    for item in items_of(kind, report, job):
        progress.tick(stage=stage, item=item, done=True, by=by)
    work_time.add_minutes(stage=stage, minutes=25 + 7 * len(kind), note="", by=by)
    if kind == "stem":
        stage.measured = {"stem.length": f"{report.stem.length:.2f} ±0.01"}
        stage.save()
        progress.skip(stage=stage, reason="cut when the movement was tried", by=by)
    else:
        if kind == "timing":
            _run(job, by)
        progress.close(stage=stage, report=report, by=by)


def _run(job, by):
    """Half-daily taps over four days of a watch that gains 0.21 s/day."""
    run = timing_runs.start_run(job=job, by=by, bench_temperature=22.0, cell_voltage=1.56, current_draw=1.4)
    start = timezone.now() - timedelta(days=4)
    for i in range(9):
        at = start + timedelta(hours=12 * i)
        timing_runs.add_reading(
            run=run, at=at, offset_s=0.35 + 0.105 * i + 0.09 * sin(7 * i), how="tap", plus_minus_s=0.01
        )
