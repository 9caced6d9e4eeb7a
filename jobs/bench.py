"""What is on the bench: open jobs by what they wait for, and one search over everything."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from django.db.models import Count, Exists, OuterRef, Q, Subquery
from django.urls import reverse
from django.utils import timezone

from jobs.models import Customer, Job, LuminousClearance, Option, Order, Photo, Stage, WorkTime
from jobs.models.job import day_or_last
from jobs.stages.progress import ORDER, agreement
from parts.library.kinds import KINDS

if TYPE_CHECKING:
    from django.db.models import QuerySet

SHOWN = 15
"""Jobs listed of each group before the rest is asked for."""
_HITS = 6
_SOONEST = (day_or_last(), "id")


@dataclass(frozen=True, slots=True)
class Group:
    """The open jobs that wait for the same; `count` counts also those that are not listed."""

    waits_for: str
    word: str
    jobs: list
    count: int


def groups(*, stage: str = "", late: bool = False, only: str = "", limit: int | None = SHOWN) -> list[Group]:
    """The groups of open jobs, soonest promised first; `only` names the one group that is wanted.

    The `strip` of a job has the state of each of its stages in their order, "now" for the one that comes next.
    """
    jobs = Job.objects.open()
    if stage:
        jobs = jobs.filter(stage=stage)
    if late:
        jobs = jobs.filter(promised__lt=today())
    counts = dict(jobs.order_by().values_list("waits_for").annotate(Count("pk")))
    by_group: dict[Job.WaitsFor, list] = {choice: [] for choice in Job.WaitsFor if only in ("", choice)}
    soonest = jobs.order_by(*_SOONEST).values_list("pk", flat=True)
    shown = [pk for choice in by_group for pk in soonest.filter(waits_for=choice)[:limit]]
    states = _stage_states(shown)
    for job in _ready(Job.objects.filter(pk__in=shown)):
        job.strip = ["now" if kind == job.stage else states[job.pk, kind] for kind in ORDER if (job.pk, kind) in states]
        by_group[job.waits_for].append(job)
    return [Group(choice.value, str(choice.label), held, counts.get(choice, 0)) for choice, held in by_group.items()]


def _stage_states(jobs):
    """The state of each stage of these jobs, by job and kind."""
    rows = Stage.objects.filter(job__in=jobs).values_list("job", "kind", "state")
    return {(job, kind): state for job, kind, state in rows}


def most_late():
    """The open job whose promised day is longest past, as `groups` gives it; None where none is late."""
    return _ready(Job.objects.open().alias(day=day_or_last()).filter(day__lt=today())).first()


def _ready(jobs):
    """The jobs with all that a line of the bench shows but its strip of stages, in one query."""
    photos = Photo.objects.filter(job=OuterRef("pk"), archived=False)
    chosen = Option.objects.filter(job=OuterRef("pk"), chosen=True)
    return (
        jobs.select_related("customer", "case_family")
        .annotate(
            parts_due=Subquery(_parts_due().values("text")[:1]),
            timer_runs=Exists(WorkTime.objects.filter(stage__job=OuterRef("pk"), ended=None, undone=False)),
            thumbnail=Subquery(photos.order_by("-is_cover", "place", "pk").values("pk")[:1]),
            is_cleared=Exists(LuminousClearance.objects.filter(job=OuterRef("pk"), undone=False)),
            has_option=Exists(chosen),
            verdict=Subquery(chosen.values("pairing__report__verdict")[:1]),
            may_start=agreement(),
        )
        .order_by(*_SOONEST)
    )


def _parts_due():
    return Order.objects.filter(job=OuterRef("pk"), state__in=Order.OPEN).order_by("expected", "pk")


def next_action(job):
    """What to do next on a job that `groups` gave."""
    if job.luminous == Job.Luminous.AGED and not job.is_cleared:
        return "Clear the luminous paint first"
    if not job.has_option:
        return "Choose the parts"
    if job.stage == Stage.Kind.TEARDOWN and not job.may_start:
        return "Get the go-ahead"
    if job.waits_for == Job.WaitsFor.PARTS and job.parts_due:
        return f"Waiting for {job.parts_due}"
    return f"Next: {Stage.Kind(job.stage).label}" if job.stage else "Close the job"


def days_left(promised, today):
    """How far off a promised day is, in words: "3 days left", "due today", "5 days late"."""
    days = (promised - today).days
    if not days:
        return "due today"
    return f"{abs(days)}\xa0day{'' if abs(days) == 1 else 's'} {'left' if days > 0 else 'late'}"


@dataclass(frozen=True, slots=True)
class Hit:
    """One thing that a search found."""

    words: str
    url: str


def search(words):
    """Jobs, customers, case families and parts that hold every word, as (word, hits) groups without empty ones."""
    words = words.replace("\0", " ").split()[:8]
    if not words:
        return []
    groups = [
        (
            "Jobs",
            [
                Hit(f"{job.number} {job.title}, {job.customer}{_closed(job)}", job.get_absolute_url())
                for job in jobs_like(words=" ".join(words))[:_HITS]
            ],
        ),
        (
            "Customers",
            [
                Hit(str(customer), customer.get_absolute_url())
                for customer in holding(Customer.objects.all(), CUSTOMER_FIELDS, words)[:_HITS]
            ],
        ),
    ]
    groups += [(kind.plural.capitalize(), _parts_holding(kind, words)) for kind in KINDS.values()]
    return [(word, hits) for word, hits in groups if hits]


def _closed(job):
    """What a search tells of a job that is no longer on the bench."""
    state = "" if job.state == Job.State.OPEN else f", {job.get_state_display()}"
    return f"{state}, archived" if job.archived else state


def _parts_holding(kind, words):
    records, fields = kind.model.objects.filter(archived=False), ("name",)
    if kind.has_family:
        records, fields = records.select_related("family"), ("name", "family__name")
    return [
        Hit(str(record), reverse("parts:detail", args=[kind.slug, record.pk]))
        for record in holding(records, fields, words)[:_HITS]
    ]


CUSTOMER_FIELDS = ("name", "email", "phone")
_JOB_FIELDS = ("number", "customer__name", "case_family__name", "watch", "serial", "wish")


def holding(records, fields, words):
    """The records of which each word is somewhere in the fields."""
    for word in words:
        anywhere = Q()
        for field in fields:
            anywhere |= Q(**{f"{field}__icontains": word})
        records = records.filter(anywhere)
    return records


def jobs_like(*, words: str = "", state: str = "") -> QuerySet[Job]:
    """Jobs of every state, newest first; `state` is one of theirs or "archived", `words` as in the search."""
    jobs = Job.objects.select_related("customer", "case_family").order_by("-pk")
    if state == "archived":
        jobs = jobs.filter(archived=True)
    elif state:
        jobs = jobs.filter(archived=False, state=state)
    return holding(jobs, _JOB_FIELDS, words.replace("\0", " ").split()[:8])


def today():
    """The day by which a promised date is late."""
    return timezone.localdate()
