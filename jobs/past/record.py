"""The record of a job for searching and counting, made anew from the job whenever it has changed.

Each change leaves a row in StaleRecord (`jobs.history`); whoever reads the records calls `refresh_stale` first.
"""

from django.db import transaction
from django.db.models import Max, Prefetch
from django.utils import timezone

from jobs.models import (
    Customer,
    Event,
    Job,
    Option,
    OptionReport,
    Past,
    PastCheck,
    PastText,
    PastWord,
    Quote,
    QuoteLine,
    StaleRecord,
)
from jobs.past.search.document import RELATIONS, text_of
from jobs.past.search.words import learn_words
from jobs.stages.work_time import minutes_of
from parts.fit.units import with_unit
from parts.models import CaseFamily, HandSet, Movement, Pairing

AT_ONCE = 200
"""Jobs that one reading of the records makes anew."""
_NAMED = {
    Customer: "job__customer",
    CaseFamily: "family",
    Movement: "movement",
    HandSet: "hands",
    Pairing: "job__options__pairing",
}
"""What a record holds of others: a change of these changes it, too, and how a record leads to them."""
_COLUMNS = [field.name for field in Past._meta.fields if not field.primary_key]


@transaction.atomic
def refresh_stale(limit=AT_ONCE):
    """Make the records of changed jobs anew, at most so many; returns how many jobs are still left.

    The rows are taken away before the jobs are read: a change that is not committed yet leaves its own row behind.
    """
    _queue_renamed()
    jobs = list(StaleRecord.objects.order_by().values_list("job", flat=True).distinct()[:limit])
    if not jobs:
        return 0
    rows = list(StaleRecord.objects.filter(job__in=jobs).values_list("pk", flat=True))
    StaleRecord.objects.filter(pk__in=rows).delete()
    rebuild(jobs)
    return StaleRecord.objects.values("job").distinct().count() if len(jobs) == limit else 0


def _queue_renamed():
    """Have the jobs remembered anew whose customer, pairing or parts changed since a record was last written."""
    since = Past.objects.aggregate(last=Max("written"))["last"]
    if since is None:
        return
    for model, relation in _NAMED.items():
        if changed := list(model.objects.filter(updated__gt=since).values_list("pk", flat=True)):
            jobs = Past.objects.filter(**{f"{relation}__in": changed}).values_list("pk", flat=True)
            StaleRecord.objects.bulk_create((StaleRecord(job_id=job) for job in jobs), batch_size=1000)


def rebuild_all(on_progress=lambda _done: None):
    """Make every record and the vocabulary anew; `on_progress` is called with how many are done."""
    PastWord.objects.all().delete()
    numbers, done = list(Job.objects.order_by("pk").values_list("pk", flat=True)), 0
    for start in range(0, len(numbers), AT_ONCE):
        with transaction.atomic():
            batch = numbers[start : start + AT_ONCE]
            StaleRecord.objects.filter(job__in=batch).delete()
            done += rebuild(batch)
        on_progress(done)
    return done


@transaction.atomic
def rebuild(keys):
    """Make the records of these jobs (primary keys) anew; returns how many."""
    jobs = list(_loaded(keys))
    closed = dict(
        Event.objects.filter(job__in=keys, kind=Event.Kind.CLOSED).order_by().values_list("job").annotate(Max("at"))
    )
    reports = _reports(keys)
    records, checks, texts = [], [], []
    for job in jobs:
        saved_report = reports.get(job.pk)
        past = _record_of(job, saved_report, closed.get(job.pk))
        records.append(past)
        checks += _checks_of(past, saved_report)
        texts.append(text_of(job, [past.facts[name] for name in ("movement", "hands", "dial") if past.facts[name]]))
    PastCheck.objects.filter(past__in=keys).delete()
    Past.objects.bulk_create(records, update_conflicts=True, unique_fields=["job"], update_fields=_COLUMNS)
    PastCheck.objects.bulk_create(checks, batch_size=1000)
    fields = ["head", "body", "told"]
    PastText.objects.bulk_create(texts, update_conflicts=True, unique_fields=["job"], update_fields=fields)
    learn_words(f"{text.head} {text.body}" for text in texts)
    return len(jobs)


def _loaded(keys):
    named = ("movement__copied_from", "hands__copied_from", "dial__family")
    parts = Option.objects.select_related(*(f"pairing__{name}" for name in named))
    related = Job.objects.select_related("customer", "case_family", "outcome__ring", "outcome__spacer")
    return related.prefetch_related(Prefetch("options", parts), *RELATIONS).filter(pk__in=keys)


def _reports(keys):
    """The last kept report of each job's chosen option."""
    newest = OptionReport.objects.filter(option__job__in=keys, option__chosen=True).order_by()
    pks = newest.values("option").annotate(last=Max("pk")).values("last")
    return {report.option.job_id: report for report in OptionReport.objects.filter(pk__in=pks).select_related("option")}


def _chosen(job):
    return next((option.pairing for option in job.options.all() if option.chosen), None)


def _original(pairing, name):
    """A part of the pairing, as what it was copied from, so that both count as one; None where it has none."""
    part = getattr(pairing, name) if pairing else None
    return part and part.original


def _record_of(job, saved_report, closed):
    pairing = _chosen(job)
    outcome = getattr(job, "outcome", None)
    closed = None if job.state == Job.State.OPEN else closed or job.updated
    day = timezone.localtime(closed or job.logged).date()
    spent = {stage.kind: round(minutes, 1) for stage in job.stages.all() if (minutes := _minutes(stage))}
    return Past(
        job=job,
        state=job.state,
        stage=job.stage,
        outcome=outcome.word if outcome else "",
        learn=bool(outcome and outcome.learn),
        family=job.case_family,
        movement=_original(pairing, "movement"),
        hands=_original(pairing, "hands"),
        case_id=pairing and pairing.case_id,
        day=day,
        month=day.year * 100 + day.month,
        days=(closed - job.logged).total_seconds() / 86_400 if closed else None,
        quoted=_quoted(job),
        took=sum(spent.values()) if spent else None,
        spent=spent,
        reported=saved_report is not None,
        facts=_facts(job, pairing, outcome, saved_report),
    )


def _minutes(stage):
    return minutes_of([time for time in stage.work_times.all() if time.ended and not time.undone])


def _quoted(job):
    """Minutes of work that the accepted quote holds; None without one, or where its lines name none."""
    parts = [part for quote in job.quotes.all() if quote.state == Quote.State.ACCEPTED for part in quote.parts.all()]
    lines = [line for part in parts if part.accepted for line in part.lines.all() if line.taken]
    minutes = [line.minutes for line in lines if line.kind == QuoteLine.Kind.WORK and line.minutes is not None]
    return float(sum(minutes)) if minutes else None


def _facts(job, pairing, outcome, saved_report):
    """What a line of the past swaps shows, in words."""
    report = saved_report.report if saved_report else {}
    spacer, stem = report.get("spacer") or {}, report.get("stem") or {}
    measured = next((stage.measured.get("stem.length") for stage in job.stages.all() if stage.kind == "stem"), None)
    photos = [photo for photo in job.photos.all() if not (photo.archived or photo.has_money)]
    cover = next((photo for photo in photos if photo.is_cover), photos[-1] if photos else None)
    return {
        "movement": pairing.movement.name if pairing and pairing.movement else "",
        "hands": pairing.hands_in_words if pairing else "",
        "dial": str(pairing.dial) if pairing and pairing.dial else "",
        "verdict": report.get("verdict", ""),
        "kept": saved_report.pk if saved_report else None,
        "spacer": _spacer(spacer),
        "ring": outcome.ring.revision if outcome and outcome.ring else None,
        "spacer_revision": outcome.spacer.revision if outcome and outcome.spacer else None,
        "stem": f"{measured} mm" if measured else _mm(stem.get("length")),
        "stem_measured": bool(measured),
        "photo": cover and cover.pk,
        "wrong": outcome.went_wrong[:400] if outcome else "",
        "learn": outcome.learn_why if outcome and outcome.learn else "",
    }


def _spacer(spacer):
    thickness = spacer.get("thickness")
    if not thickness:
        return "none" if thickness == 0 else ""
    return f"{_mm(thickness)} {'in front of' if spacer.get('placement') == 'front' else 'behind'} the dial"


def _mm(value):
    return with_unit(value, "mm") if value is not None else ""


def _checks_of(past, saved_report):
    hindsights = {hindsight.check_key: hindsight for hindsight in past.job.hindsights.all() if hindsight.found}
    said = {check["key"]: (check["title"], check["verdict"]) for check in saved_report.answered} if saved_report else {}
    said |= {key: (hindsight.title, hindsight.said) for key, hindsight in hindsights.items()}
    for key, (title, verdict) in said.items():
        if verdict != "fits" or key in hindsights:
            bench = hindsights[key].found if key in hindsights else ""
            yield PastCheck(past=past, check_key=key, title=title, said=verdict, found=bench)
