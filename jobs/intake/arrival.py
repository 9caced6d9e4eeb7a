"""Logging a watch: customer, case family, job, condition and stages in one go."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import TYPE_CHECKING, Any

from django.db import transaction
from django.utils import timezone

from jobs.history import record
from jobs.job.number import next_number
from jobs.models import Condition, Customer, Draft, Event, Job
from jobs.past.take_over import take_over
from jobs.photos.storing import store_pictures
from jobs.stages.progress import create_stages
from parts.models import CaseFamily

if TYPE_CHECKING:
    from django.contrib.auth.models import User

    from jobs.models import Enquiry
    from parts.tools.pictures import Kept


@transaction.atomic
def log_watch(
    *,
    by: User,
    customer: Customer,
    family_name: str = "",
    conditions: Iterable[tuple[str, str, str]] = (),
    pictures: Iterable[Kept] = (),
    like: Job | None = None,
    enquiry: Enquiry | None = None,
    **facts: Any,
) -> Job:
    """Make the job; `customer` is saved if it is new, a family of an unknown name is made.

    `conditions` are (subject, finding, remark) rows, `pictures` photos, `facts` the job's
    own fields; from `like`, a past job, the pairing, the holder and the quote's lines are copied. The `enquiry` that
    announced the watch is this job's from then on.
    """
    if customer.pk is None:
        customer.save()
    job = Job.objects.create(
        number=next_number(timezone.localdate().year),
        customer=customer,
        case_family=family_of(family_name),
        **facts,
    )
    Condition.objects.bulk_create(
        Condition(job=job, subject=subject, finding=finding, remark=remark) for subject, finding, remark in conditions
    )
    create_stages(job)
    Draft.objects.filter(user=by).delete()
    record(job=job, by=by, kind=Event.Kind.LOGGED, stage="intake", after=job.title)
    if like:
        take_over(job=job, source=like, by=by)
    if enquiry:
        enquiry.become(job)
    store_pictures(job=job, pictures=pictures, by=by)
    return job


def find_family(name):
    """The case family of this name, however it is capitalised; None where there is none."""
    if not _can_name(CaseFamily, name):
        return None
    return CaseFamily.objects.filter(name__iexact=name.strip(), archived=False).first()


def family_of(name):
    """The case family of this name, made where there is none; None for no name."""
    return find_family(name) or (CaseFamily.objects.create(name=name.strip()) if name.strip() else None)


def namesakes(name):
    """The customers of just this name, however it is capitalised."""
    name = name.replace("\0", "").strip()
    if not _can_name(Customer, name):
        return []
    return list(Customer.objects.filter(name__iexact=name, archived=False).order_by("pk"))


def _can_name(model, name):
    """Whether a record may have this name at all: a longer one is no pattern that a database looks for."""
    return 0 < len(name.strip()) <= model._meta.get_field("name").max_length


def likely_customers(words, limit=8):
    """Customers whose name or phone holds the words, for picking one while typing."""
    words = words.strip()
    if not words:
        return []
    named = Customer.objects.filter(archived=False, name__icontains=words)
    return list((named | Customer.objects.filter(archived=False, phone__icontains=words)).order_by("name")[:limit])


def likely_families(words, limit=8):
    """Case families whose name holds the words."""
    families = CaseFamily.objects.filter(archived=False, name__icontains=words.strip())
    return list(families.order_by("name")[:limit]) if words.strip() else []


def keep_draft(*, user: User, data: Mapping[str, Any]) -> None:
    """Keep what was typed so far; in one statement, since the same person may be logging a watch elsewhere."""
    draft, changed = Draft(user=user, data=data), ["data", "updated"]
    Draft.objects.bulk_create([draft], update_conflicts=True, unique_fields=["user"], update_fields=changed)


def drop_draft(*, user: User) -> None:
    """Forget what was typed; nothing where nothing was, such as on a second click."""
    Draft.objects.filter(user=user).delete()


def draft_of(user):
    """The person's draft; an empty one where nothing was typed, or where it was dropped elsewhere just now."""
    if draft := Draft.objects.filter(user=user).first():
        return draft
    Draft.objects.bulk_create([Draft(user=user)], ignore_conflicts=True)
    return Draft.objects.filter(user=user).first() or Draft(user=user)
