"""What is on the bench: open jobs by what they wait for, and one search over everything."""

from dataclasses import dataclass

from django.db.models import Count, Exists, F, OuterRef, Q, Subquery
from django.utils import timezone

from jobs.models import Customer, GoAhead, Job, LuminousClearance, Option, Photo, Stage
from parts.kinds import KINDS
from parts.models import CaseFamily

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
        found = found.filter(promised__lt=timezone.localdate())
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
            thumbnail=Subquery(photos.values("pk")[:1]),
            is_cleared=Exists(LuminousClearance.objects.filter(job=OuterRef("pk"), taken_back=False)),
            has_option=Exists(Option.objects.filter(job=OuterRef("pk"), chosen=True)),
            may_start=Exists(GoAhead.objects.filter(job=OuterRef("pk"), taken_back=False)),
        )
        .order_by(F("promised").asc(nulls_last=True), "pk")
    )


def next_action(job):
    """What to do next on a job that `groups` gave."""
    if job.luminous == Job.Luminous.AGED and not job.is_cleared:
        return "Clear the luminous material before opening the watch"
    if not job.has_option:
        return "Choose the parts that go in"
    if job.stage == Stage.Kind.TEARDOWN and not job.may_start:
        return "Get the customer's go-ahead"
    return f"Go on with {Stage.Kind(job.stage).label}" if job.stage else "Close the job"


@dataclass(frozen=True, slots=True)
class Hits:
    """What one search found, as (word, records) groups without the empty ones."""

    groups: list


def search(words):
    """Jobs, customers, case families and parts that hold every word."""
    words = words.replace("\0", " ").split()[:8]
    if not words:
        return Hits([])
    found = [
        ("Jobs", Job.objects.select_related("customer", "case_family"), _JOB_FIELDS),
        ("Customers", Customer.objects.all(), ("name", "email", "phone")),
        ("Case families", CaseFamily.objects.filter(archived=False), ("name", "notes")),
    ]
    for kind in KINDS.values():
        if kind.model is not CaseFamily:
            records = kind.model.objects.filter(archived=False)
            records = records.select_related("family") if kind.has_family else records
            fields = ("name", "family__name") if kind.has_family else ("name",)
            found.append((kind.many.capitalize(), records, fields))
    hits = ((word, list(_holding(records, fields, words)[:_HITS])) for word, records, fields in found)
    return Hits([(word, records) for word, records in hits if records])


_JOB_FIELDS = ("number", "customer__name", "case_family__name", "watch", "serial", "wish")


def _holding(records, fields, words):
    for word in words:
        anywhere = Q()
        for field in fields:
            anywhere |= Q(**{f"{field}__icontains": word})
        records = records.filter(anywhere)
    return records
