"""Makes thousands of past jobs, the same ones for the same seed: for tests of the search and for the bench.

`generate` makes jobs with their stages, times, pairings, reports and outcomes; `generate_records` makes the jobs with
their records alone, which is what the pages read, and ten times as fast.
"""

from datetime import UTC, datetime, timedelta
from random import Random

from django.db import transaction

from jobs.models import (
    Customer,
    Event,
    Hindsight,
    Job,
    Option,
    OptionReport,
    Outcome,
    Past,
    PastCheck,
    PastText,
    Quote,
    QuoteLine,
    QuotePart,
    Stage,
    WorkTime,
)
from jobs.past.record import rebuild_all
from jobs.past.search.words import learn_words, words_of
from jobs.stages.progress import ORDER
from parts.models import CaseFamily, HandSet, Movement, Pairing

START = datetime(2012, 1, 9, 9, tzinfo=UTC)
FAMILIES = [
    f"{name}{end} {size}"
    for name, size in zip(
        ("Bramble", "Ostrey", "Lanthorn", "Kelp", "Quern", "Saltmarsh", "Toll", "Wicker", "Fennel", "Harrow"),
        (36, 34, 33, 38, 35, 26, 40, 31, 37, 29),
        strict=True,
    )
    for end in ("gate", "moor", "stone", "wick", "ford")
]
MOVEMENTS = [f"{name} {kind}" for name in ("Sprig", "Burr", "Teasel", "Madder", "Sorrel") for kind in
             ("two-hand", "three-hand", "date at 3", "date at 4", "small seconds", "thin", "high torque")]  # fmt: skip
HANDS = [f"{name} {colour}" for name in ("Leaf", "Baton", "Sword", "Alpha", "Spade") for colour in
         ("blued", "gilt", "steel", "black", "white")]  # fmt: skip
WISHES = (
    "A quartz movement with the date.", "It should simply run again.", "Quartz; the dial stays as it is.",
    "For my mother, easy to set.", "Keep the crown and the old hands.", "A watch to wear at work.",
)  # fmt: skip
REMARKS = (
    "The case back needed two turns of the press.", "Dial feet cut and pads set well clear of the disc.",
    "The tube was worn and was reamed lightly.", "Hour hand opened to the post, fits with light pressure.",
    "Gasket hardened, replaced with a new one.", "The holder sat tight; sanded at the three nubs.",
    "Stem cut twice, the first one kept for reference.", "Date jumps at three minutes past midnight.",
    "Crystal polished on both sides.", "Old oil on the dial's rear, cleaned with care.",
)  # fmt: skip
WRONG = (
    "The spacer was printed too thick and had to be sanded.", "The crown touched the tube when pushed in.",
    "The minute hand rubbed on the crystal.", "The date stood half a numeral too low in the window.",
    "The movement twisted when the crown was pulled.", "The second dial foot broke off.",
)  # fmt: skip
NAMES = ("Ottilie Reed", "Ben Alder", "Marit Holm", "Ivo Castle", "Thea Lund", "Jörg Ähren", "Zoë Marsh", "Łucja Wren")
CHECKS = ("dial-opening", "stem-height", "back-gap", "gap-crystal", "date-in-window", "case-bore", "stem-length")
LINES = (("work", "Make and fit holder and spacer", 60), ("work", "Cut and fit stem and crown", 20),
         ("part", "Movement", None))  # fmt: skip


class _Making:
    """The rows of `count` jobs, not saved: one pass in which each draw follows from the seed."""

    def __init__(self, by, seed):
        self.by, self.random = by, Random(seed)
        self.customers = _all(Customer, NAMES, phone="555 0100")
        self.families = _all(CaseFamily, FAMILIES)
        self.movements = _all(Movement, MOVEMENTS)
        self.hands = _all(HandSet, HANDS)

    def job(self, i):
        draw = self.random
        logged = START + timedelta(hours=9 * i, minutes=draw.randrange(500))
        state = draw.choices(("finished", "declined", "returned"), (94, 4, 2))[0]
        job = Job(
            number=f"{logged.year % 100:02d}-{i + 1:06d}",
            customer=draw.choice(self.customers),
            case_family=draw.choice(self.families),
            watch=draw.choice(("cream dial", "black dial, luminous plots", "gilt dial", "ivory dial, small")),
            wish=draw.choice(WISHES),
            luminous="none",
            state=state,
            stage="" if state == "finished" else draw.choice(ORDER[1:]),
            waits_for="nothing",
            remarks=draw.choice(REMARKS) if draw.random() < 0.5 else "",
            logged=logged,
        )
        job.closed = logged + timedelta(days=draw.gammavariate(4, 5))
        job.movement, job.hands = draw.choice(self.movements), draw.choice(self.hands)
        job.word = draw.choices(("well", "trouble", "changed", "failed", ""), (60, 18, 8, 3, 11))[0]
        job.wrong = draw.choice(WRONG) if job.word in ("trouble", "failed") else ""
        job.learn = draw.random() < 0.02
        job.minutes = {kind: round(draw.gammavariate(6, 6), 1) for kind in ORDER[1:]}
        job.quoted = float(60 + 20) * draw.choice((1, 1, 2))
        job.said = {key: draw.choices(("fits", "work", "no"), (60, 35, 5))[0] for key in CHECKS}
        job.hindsight = draw.choice(CHECKS) if draw.random() < 0.06 else ""
        return job


def _all(model, names, **more):
    known = {one.name: one for one in model.objects.filter(name__in=names)}
    made = model.objects.bulk_create(model(name=name, **more) for name in names if name not in known)
    return [*known.values(), *made]


@transaction.atomic
def generate_records(count, *, by, seed=1, first=0):
    """Jobs from number `first` on with their records and texts, up to `count` jobs in all."""
    making = _Making(by, seed)
    for start in range(0, count, 2000):
        jobs = [making.job(i) for i in range(start, min(count, start + 2000))][max(0, first - start) :]
        if not jobs:
            continue
        Job.objects.bulk_create(jobs, batch_size=1000)
        pasts = Past.objects.bulk_create([_record(job) for job in jobs], batch_size=1000)
        PastCheck.objects.bulk_create(
            (
                PastCheck(past=past, check_key=key, title=key, said=said, found="no" if key == job.hindsight else "")
                for job, past in zip(jobs, pasts, strict=True)
                for key, said in job.said.items()
                if said != "fits" or key == job.hindsight
            ),
            batch_size=2000,
        )
        texts = [_text(job) for job in jobs]
        PastText.objects.bulk_create(texts, batch_size=1000)
        learn_words(f"{text.head} {text.body}" for text in texts)


def _save_jobs(jobs):
    """Save the jobs with the day they were logged, which Django sets to now as a row is made."""
    logged = [job.logged for job in jobs]
    Job.objects.bulk_create(jobs, batch_size=1000)
    for job, at in zip(jobs, logged, strict=True):
        job.logged = at
    Job.objects.bulk_update(jobs, ["logged"], batch_size=200)


def _record(job):
    day = job.closed.date()
    return Past(
        job=job, state=job.state, stage=job.stage, outcome=job.word, learn=job.learn, family=job.case_family,
        movement=job.movement, hands=job.hands, day=day, month=day.year * 100 + day.month,
        days=(job.closed - job.logged).total_seconds() / 86_400, quoted=job.quoted, took=sum(job.minutes.values()),
        spent=job.minutes, reported=True,
        facts={"movement": job.movement.name, "hands": job.hands.name, "dial": "", "verdict": "work",
               "spacer": "0.35 mm in front of the dial", "stem": "9.75 mm", "photo": None, "kept": None},
    )  # fmt: skip


def _text(job):
    told = {"what went wrong": job.wrong, "wish": job.wish, "remarks": job.remarks, "customer": job.customer.name}
    told = [["job", where, text] for where, text in told.items() if text]
    head = " ".join(words_of(f"{job.number} {job.title} {job.watch} {job.movement} {job.hands}"))
    return PastText(job=job, head=head, body=" ".join(words_of(" ".join(text for *_, text in told))), told=told)


@transaction.atomic
def generate(count, *, by, seed=1):
    """As many whole jobs, with everything that a person would have entered, and their records."""
    making = _Making(by, seed)
    jobs = [making.job(i) for i in range(count)]
    _save_jobs(jobs)
    _stages(jobs, making)
    _options(jobs)
    _quotes(jobs)
    Outcome.objects.bulk_create(
        (Outcome(job=job, word=job.word, went_wrong=job.wrong, learn=job.learn) for job in jobs), batch_size=2000
    )
    Hindsight.objects.bulk_create(
        Hindsight(job=job, check_key=key, title=key, said=job.said[key], found="no", by=by)
        for job in jobs
        if (key := job.hindsight)
    )
    events = Event.objects.bulk_create(
        (Event(job=job, by=by, kind=Event.Kind.CLOSED, data={"after": job.state}) for job in jobs), batch_size=2000
    )
    for event, job in zip(events, jobs, strict=True):
        event.at = job.closed
    Event.objects.bulk_update(events, ["at"], batch_size=200)
    rebuild_all()
    return jobs


def _stages(jobs, making):
    stages = Stage.objects.bulk_create(
        (
            Stage(
                job=job, kind=kind, state="done", remarks=making.random.choice(REMARKS) if i % 3 == 0 else ""
            )
            for job in jobs
            for i, kind in enumerate(ORDER)
        ),
        batch_size=2000,
    )  # fmt: skip
    WorkTime.objects.bulk_create(
        (
            WorkTime(
                stage=stage, started=stage.job.logged, by=making.by, by_hand=True,
                ended=stage.job.logged + timedelta(minutes=stage.job.minutes[stage.kind]),
            )
            for stage in stages
            if stage.kind != "intake"
        ),
        batch_size=2000,
    )  # fmt: skip


def _options(jobs):
    pairings = Pairing.objects.bulk_create(
        (Pairing(name=f"{job.case_family}, {job.number}", movement=job.movement, hands=job.hands) for job in jobs),
        batch_size=1000,
    )
    options = Option.objects.bulk_create(
        (Option(job=job, pairing=pairing, chosen=True) for job, pairing in zip(jobs, pairings, strict=True)),
        batch_size=2000,
    )
    OptionReport.objects.bulk_create(
        (
            OptionReport(
                option=option, why="generated",
                report={
                    "verdict": "work", "why": "", "spacer": {"placement": "front", "thickness": 0.35},
                    "stem": {"length": 9.75},
                    "checks": [{"key": key, "title": key, "verdict": said} for key, said in option.job.said.items()],
                },
            )
            for option in options
        ),
        batch_size=1000,
    )  # fmt: skip


def _quotes(jobs):
    day = START.date()
    quotes = Quote.objects.bulk_create(
        (
            Quote(job=job, version=1, state="accepted", currency="EUR", tax_inclusive=True, tax_by_line=False,
                  valid_until=day)
            for job in jobs
        ),
        batch_size=1000,
    )  # fmt: skip
    parts = QuotePart.objects.bulk_create(
        (QuotePart(quote=quote, title="as quoted", accepted=True) for quote in quotes), batch_size=2000
    )
    QuoteLine.objects.bulk_create(
        (QuoteLine(part=part, kind=kind, text=text, minutes=minutes, price=10) for part in parts
         for kind, text, minutes in LINES),
        batch_size=2000,
    )  # fmt: skip
