"""The demo's jobs: invented customers, and watches at every point of their way through the workshop."""

from datetime import timedelta
from math import sin

from django.contrib.auth import get_user_model
from django.db import transaction
from django.utils import timezone

from jobs.history import record
from jobs.intake.arrival import log_watch
from jobs.job import state
from jobs.models import Customer, Event, GoAhead, Job
from jobs.options import choosing
from jobs.stages import progress, work_time
from jobs.stages.checklist import items_of
from jobs.timing import timing_runs
from parts.models import Pairing

_JOBS = (
    # customer, phone, family, watch, wish, pairing, stages done, waits for, promised in days, luminous
    ("Ottilie Reed", "555 0101", "Bramblegate 36", "cream dial, does not run", "Quartz with a date; the dial stays.",
     "Bramblegate 36 to quartz with date", 5, "me", 6, "none"),
    ("Ben Alder", "555 0117", "Kelpmoor 38", "black dial, luminous plots", "A watch to wear at work again.",
     "Kelpmoor 38 with large date window", 0, "me", 12, "aged"),
    ("Marit Holm", "555 0122", "Lanthorn 33", "gilt, a gift", "It should simply run.",
     "Lanthorn 33, straight swap", 6, "me", 2, "none"),
    ("Ivo Castle", "555 0135", "Quernstone 35", "grey dial", "Quartz; the dial must not sit deeper than now.",
     "Quernstone 35, spacer behind the dial", 2, "parts", 9, "none"),
    ("Ottilie Reed", "555 0101", "Saltmarsh 26", "ivory dial, small", "For her mother, easy to set.",
     "Saltmarsh 26, small two-hand", 0, "customer", -3, "none"),
    ("Thea Lund", "555 0148", "Tollgate 40", "blue dial, crown at 4", "Date at 4 must stay.",
     "Tollgate 40, crown at 4", 7, "nothing", None, "none"),
)  # fmt: skip


@transaction.atomic
def fill_bench():
    """Log the demo's watches and take each as far as it has come; returns how many there are."""
    by, _ = get_user_model().objects.get_or_create(username="demo", defaults={"is_staff": True, "is_superuser": True})
    for row in _JOBS:
        _take(by, *row)
    return len(_JOBS)


def _take(by, name, phone, family, watch, wish, pairing, done, waits, days, paint):
    customer = Customer.objects.filter(name=name).first() or Customer(name=name, phone=phone, reach="phone")
    promised = timezone.localdate() + timedelta(days=days) if days is not None else None
    facts = {"watch": watch, "wish": wish, "promised": promised, "luminous": paint, "keep": "dial and case"}
    conditions = (("crystal", "worn", "fine scratches"), ("runs", "no", ""), ("water", "no", ""))
    job = log_watch(by=by, customer=customer, family_name=family, conditions=conditions, **facts)
    option = choosing.add_option(job=job, pairing=Pairing.objects.get(name=pairing, made_for=""), by=by)
    choosing.choose(option=option, by=by)
    state.wait_for(job=job, whom=waits, by=by)
    if done:
        said = GoAhead.objects.create(job=job, how="phone", said_by=name, on=timezone.localdate(), by=by)
        record(job=job, by=by, kind=Event.Kind.GO_AHEAD, data={"go_ahead": said.pk, "how": said.how}, after=name)
    report = choosing.report_of(choosing.chosen_option(job))
    for kind in progress.ORDER[1 : 1 + done]:
        _work(job, kind, report, by)
    if done >= len(progress.ORDER) - 1:
        state.close_job(job=job, state=Job.State.FINISHED, by=by)


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
