"""What is on the bench: open jobs by what they wait for, and one search over everything."""

from dataclasses import dataclass

from django.db.models import Count, Exists, F, OuterRef, Q, Subquery
from django.urls import reverse
from django.utils import timezone

from jobs.models import Customer, GoAhead, Job, LuminousClearance, Option, Order, Photo, Quote, Stage
from parts.kinds import KINDS

SHOWN = 25
"""Jobs listed of each group before the rest is asked for."""
_HITS = 6


@dataclass(frozen=True, slots=True)
class Group:
    """The open jobs that wait for the same; `count` counts also those that are not listed."""

    waits_for: str
    word: str
    jobs: list
    count: int


def groups(*, stage="", late=False, only="", limit=SHOWN):
    """The groups of open jobs, soonest promised first; `only` names the one group that is wanted."""
    found = Job.objects.open()
    if stage:
        found = found.filter(stage=stage)
    if late:
        found = found.filter(promised__lt=today())
    counts = dict(found.order_by().values_list("waits_for").annotate(Count("pk")))
    wanted = [choice for choice in Job.WaitsFor if only in ("", choice)]
    return [
        Group(choice.value, choice.label, list(_ready(found.filter(waits_for=choice))[:limit]), counts.get(choice, 0))
        for choice in wanted
    ]


def _ready(jobs):
    """The jobs with all that a line of the bench shows, in one query."""
    photos = Photo.objects.filter(job=OuterRef("pk"), put_away=False)
    return (
        jobs.select_related("customer", "case_family")
        .annotate(
            parts_due=Subquery(_parts_due().values("text")[:1]),
            thumbnail=Subquery(photos.values("pk")[:1]),
            is_cleared=Exists(LuminousClearance.objects.filter(job=OuterRef("pk"), taken_back=False)),
            has_option=Exists(Option.objects.filter(job=OuterRef("pk"), chosen=True)),
            may_start=Exists(GoAhead.objects.filter(job=OuterRef("pk"), taken_back=False))
            | Exists(Quote.objects.filter(job=OuterRef("pk"), state=Quote.State.ACCEPTED)),
        )
        .order_by(F("promised").asc(nulls_last=True), "pk")
    )


def _parts_due():
    return Order.objects.filter(job=OuterRef("pk"), state__in=Order.OPEN).order_by("expected", "pk")


def next_action(job):
    """What to do next on a job that `groups` gave."""
    if job.luminous == Job.Luminous.AGED and not job.is_cleared:
        return "Clear the luminous material before opening the watch"
    if not job.has_option:
        return "Choose the parts that go in"
    if job.stage == Stage.Kind.TEARDOWN and not job.may_start:
        return "Get the customer's go-ahead"
    if job.waits_for == Job.WaitsFor.PARTS and job.parts_due:
        return f"Wait for: {job.parts_due}"
    return f"Go on with {Stage.Kind(job.stage).label}" if job.stage else "Close the job"


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
    jobs = Job.objects.select_related("customer", "case_family")
    groups = [
        (
            "Jobs",
            [
                Hit(f"{job.number} {job.title}, {job.customer}", job.get_absolute_url())
                for job in _holding(jobs, _JOB_FIELDS, words)
            ],
        ),
        (
            "Customers",
            [
                Hit(str(one), one.get_absolute_url())
                for one in _holding(Customer.objects.all(), ("name", "email", "phone"), words)
            ],
        ),
    ]
    groups += [(kind.many.capitalize(), _parts_holding(kind, words)) for kind in KINDS.values()]
    return [(word, hits) for word, hits in groups if hits]


def _parts_holding(kind, words):
    records, fields = kind.model.objects.filter(archived=False), ("name",)
    if kind.has_family:
        records, fields = records.select_related("family"), ("name", "family__name")
    return [
        Hit(str(one), reverse("parts:detail", args=[kind.slug, one.pk])) for one in _holding(records, fields, words)
    ]


_JOB_FIELDS = ("number", "customer__name", "case_family__name", "watch", "serial", "wish")


def _holding(records, fields, words):
    for word in words:
        anywhere = Q()
        for field in fields:
            anywhere |= Q(**{f"{field}__icontains": word})
        records = records.filter(anywhere)
    return records[:_HITS]


def today():
    """The day by which a promised date is late."""
    return timezone.localdate()
