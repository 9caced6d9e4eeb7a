"""Erasing one customer's personal data while the technical record stays.

Measurements, stages, timings, quotes' lines and sums, and who did what when stay; whom it was for goes, but for issued
invoices and credit notes. There is no way back but a backup made before.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from django.apps import apps
from django.contrib.admin.models import LogEntry
from django.core.files.storage import default_storage
from django.db import models, transaction
from django.db.models import Q
from django.utils import timezone

from jobs.customers.personal_data import WAYS, is_signed, names_customer, rows_of
from jobs.customers.traces import Traces, without
from jobs.history import record
from jobs.models import (
    Condition,
    Customer,
    Enquiry,
    Event,
    FollowUp,
    GoAhead,
    Hindsight,
    Invoice,
    InvoiceLine,
    InvoiceTax,
    Job,
    LuminousClearance,
    OptionReport,
    Outcome,
    PaperOut,
    Past,
    PastCheck,
    PastText,
    PastWord,
    Payment,
    Photo,
    Quote,
    Shop,
    Stage,
    StaleRecord,
    TimingRun,
    WorkTime,
)
from jobs.past.forgetting import Forgetting, jobs_mentioning
from jobs.past.search.word_index import compact, room_lacking
from parts.models import Pairing

if TYPE_CHECKING:
    from django.contrib.auth.models import User

_SAID = {GoAhead: ("note",), Quote: ("note", "decision_note"), Enquiry: ("words",)}
"""What passed between customer and workshop: emptied always."""
_FREE = {
    Job: ("serial", "wish", "came_with", "keep", "remarks"),
    Enquiry: ("wish", "reason"),
    Event: ("before", "after"),
    Condition: ("remark",),
    FollowUp: ("words",),
    LuminousClearance: ("note",),
    Stage: ("reason", "remarks"),
    WorkTime: ("note",),
    TimingRun: ("note",),
    Outcome: ("went_wrong", "next_time", "learn_why"),
    Hindsight: ("note",),
    Photo: ("caption",),
    Payment: ("note",),
}
"""The free texts of the jobs: emptied on demand."""
BOOKS = {Invoice, InvoiceLine, InvoiceTax}
"""What the law has a shop keep for years: it stays as it was issued, with the name and address on it."""
_FOLLOWING = {Past, PastCheck, PastText, PastWord, StaleRecord}
_NOT_ELSEWHERE = {*_FOLLOWING, *BOOKS, OptionReport, Shop, Customer}


class CannotErase(ValueError):
    """A job of the customer is still open, or the disk too full; says what to do."""


def erase(*, customer: Customer, by: User, empty_texts: bool = False, drop_photos: bool = False) -> list[Job]:
    """Erase the personal data; returns the jobs of others that mentioned the customer, whose papers still may.

    Raises CannotErase, and then changes nothing.
    """
    _refuse_full_disk()
    traces = _traces(customer)
    elsewhere = _found_elsewhere(customer, traces)
    mentioning = jobs_mentioning(traces.elsewhere)
    with transaction.atomic():
        customer = Customer.objects.select_for_update().get(pk=customer.pk)
        jobs = list(rows_of(Job, customer))
        _refuse_open(jobs)
        own = {job.pk for job in jobs}
        forgetting = Forgetting(own | mentioning)
        files = _drop_papers(customer) + _drop_photos(customer, every=drop_photos)
        for model, names in (_SAID | (_FREE if empty_texts else {})).items():
            rows_of(model, customer).update(**dict.fromkeys(names, ""))
        if empty_texts:
            rows_of(Photo, customer).update(marks=[])
        rows_of(GoAhead, customer).update(said_by="erased")
        rows_of(Enquiry, customer).filter(state__in=Enquiry.OPEN).update(state=Enquiry.State.CLOSED)
        rows_of(Quote, customer).exclude(decided_by="").update(decided_by="erased")
        for model in WAYS.keys() - {Customer, *BOOKS}:
            _clean(rows_of(model, customer), traces.own)
        maintenance = LogEntry.objects.filter(content_type__app_label="jobs", content_type__model="customer")
        _clean(maintenance.filter(object_id=str(customer.pk)), traces.own)
        for model, keys in elsewhere.items():
            _clean(model._base_manager.filter(pk__in=keys), traces.elsewhere)
        _empty(customer)
        for job in jobs:
            record(job=job, by=by, kind=Event.Kind.ERASED)
        forgetting.rebuild()
    for name in files:
        default_storage.delete(name)
    compact()
    return list(Job.objects.filter(pk__in=mentioning - own).order_by("pk"))


def _traces(customer):
    said_by = {
        *rows_of(GoAhead, customer).values_list("said_by", flat=True),
        *rows_of(Quote, customer).values_list("decided_by", flat=True),
    }
    others = Customer.objects.exclude(pk=customer.pk).values_list("name", "phone", "email", "address")
    shared = {text for row in others.iterator() for text in (*row, *row[3].splitlines()) if text}
    return Traces(customer, said_by=said_by, shared=shared)


def _refuse_open(jobs):
    if still := [job.number for job in jobs if job.state == Job.State.OPEN]:
        raise CannotErase(
            f"Job {still[0]} is still open, and the watch needs an owner. Close the job first, then erase."
        )


def _refuse_full_disk():
    if lacking := room_lacking():
        raise CannotErase(
            f"Erasing rewrites the database file, and the disk lacks {lacking:.1f} MB for it. "
            "Free some space, then erase."
        )


def _models():
    labels = ("jobs", "parts", "admin")
    models_of = [model for label in labels for model in apps.get_app_config(label).get_models()]
    return [model for model in models_of if model not in _FOLLOWING] + [apps.get_model("workshop", "SentForm")]


def _texts(model):
    """The columns that hold words of somebody's own; a report and an event's facts are numbers and keys."""
    kinds = models.CharField | models.TextField | models.JSONField
    fields = [field for field in model._meta.concrete_fields if isinstance(field, kinds) and not field.choices]
    facts = {Pairing: "report", Event: "data"}
    return [field for field in fields if not field.unique and field.name != facts.get(model)]


def _found_elsewhere(customer, traces):
    """The records of others that hold a sure trace, by their table; read before anything is locked."""
    keys = {Customer: _notes_with_traces(customer, traces)}
    for model in (model for model in _models() if model not in _NOT_ELSEWHERE and _texts(model)):
        names = [field.name for field in _texts(model)]
        for pk, *values in model._base_manager.order_by().values_list("pk", *names).iterator():
            if any(without(traces.elsewhere, value) != value for value in values):
                keys.setdefault(model, []).append(pk)
    return keys


def _notes_with_traces(customer, traces):
    others = Customer.objects.exclude(pk=customer.pk).exclude(notes="").values_list("pk", "notes")
    return [pk for pk, notes in others.iterator() if traces.elsewhere.search(notes)]


def _clean(rows, pattern):
    fields = [field for field in _texts(rows.model) if rows.model is not Customer or field.name == "notes"]
    for row in rows.order_by().only("pk", *(field.name for field in fields)) if fields else ():
        changed = {}
        for field in fields:
            value = getattr(row, field.attname)
            cleaned = without(pattern, value)
            if cleaned != value:
                changed[field.name] = cleaned[: field.max_length] if isinstance(cleaned, str) else cleaned
        if changed:
            rows.model._base_manager.filter(pk=row.pk).update(**changed)


def _empty(customer):
    customer.name = customer.erased_name
    customer.email = customer.phone = customer.address = customer.reach = ""
    customer.notes = f"Personal data erased on request on {timezone.localdate():%-d %b %Y}."
    customer.archived = customer.is_erased = True
    customer.save()


def _drop_papers(customer):
    """Take the files of every paper that names the customer; the rows stay, without a file."""
    papers = rows_of(PaperOut, customer).filter(names_customer())
    files = list(papers.values_list("file", flat=True))
    papers.update(file="")
    return files


def _drop_photos(customer: Customer, *, every: bool) -> list[str]:
    photos = rows_of(Photo, customer).filter(Q() if every else is_signed())
    files = [name for pair in photos.values_list("file", "thumbnail", "original") for name in pair if name]
    photos.delete()
    return files
