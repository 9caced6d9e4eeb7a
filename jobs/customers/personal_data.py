"""What is held on one customer: the records that lead to them, and all of it as open files."""

import tempfile
import zipfile
from functools import reduce
from operator import or_

from django.db.models import Model, Q
from django.utils import timezone

from jobs import models
from jobs.models import Customer, Job, PaperOut, Photo
from parts.models import HolderDesign, Pairing
from parts.tools.open_files import columns_of, one_moment, put_file, put_table

_OF_A_JOB = (
    models.Event,
    models.Condition,
    models.LuminousClearance,
    models.GoAhead,
    models.FollowUp,
    models.Option,
    models.Outcome,
    models.Hindsight,
    models.Photo,
    models.Quote,
    models.Order,
    models.StockUse,
    models.Stage,
    models.TimingRun,
    models.WindowEntry,
)
WAYS: dict[type[Model], str] = {
    Customer: "pk",
    models.Enquiry: "customer",
    models.HolderOrder: "customer",
    models.HolderPiece: "order__customer",
    Job: "customer",
    **dict.fromkeys(_OF_A_JOB, "job__customer"),
    **dict.fromkeys((models.Payment, models.Invoice, models.PaperOut), "job__customer holder_order__customer"),
    models.OptionReport: "option__job__customer",
    models.QuotePart: "quote__job__customer",
    models.QuoteLine: "part__quote__job__customer",
    **dict.fromkeys((models.InvoiceLine, models.InvoiceTax), "invoice__job__customer invoice__holder_order__customer"),
    models.Tick: "stage__job__customer",
    models.WorkTime: "stage__job__customer",
    models.Reading: "run__job__customer",
    models.WindowPhoto: "entry__job__customer",
    Pairing: "job_option__job__customer",
    HolderDesign: "pairing__job_option__job__customer",
    models.WindowHolder: "design__pairing__job_option__job__customer",
}
"""Every table with records of a customer, and how it leads to them: one way or the other."""
_README = """What the workshop holds on one customer
Written {when:%Y-%m-%d %H:%M}.

customer, job and the other tables stand in json/ as they are stored, and in csv/ for a spreadsheet, where what
looks like a formula has a ' in front. files/ holds the photos and papers. Names that end in _id are the id of a
record in another table; by_id is who in the workshop wrote something down. Lengths are in mm, times in UTC.
{missing}"""


def rows_of(model, customer):
    """The customer's records in a table."""
    ways = [Q((way, customer.pk)) for way in WAYS[model].split()]
    return model._base_manager.filter(reduce(or_, ways))


def held(customer):
    """What is held, in numbers, and the open jobs; `naming` are the papers that name the customer."""
    jobs, photos = rows_of(Job, customer), rows_of(Photo, customer)
    return {
        "jobs": jobs.count(),
        "open": list(jobs.filter(state=Job.State.OPEN).order_by("pk")),
        "papers": rows_of(PaperOut, customer).exclude(file="").count(),
        "naming": rows_of(PaperOut, customer).filter(names_customer()).count(),
        "invoices": rows_of(models.Invoice, customer).count(),
        "photos": photos.count(),
        "in_window": rows_of(models.WindowEntry, customer).count(),
        "signed": photos.filter(is_signed()).count(),
    }


def names_customer():
    """The papers, still there, that name their customer and may go: no foot templates, none of the shop's books."""
    return ~Q(kind__in=(PaperOut.Kind.TEMPLATE, *PaperOut.BOOKS)) & ~Q(file="")


def is_signed():
    """The photos that show a signature."""
    return Q(kind=Photo.Kind.SIGNED)


def personal_file(customer):
    """An open temporary file with the ZIP of all that is held, at its beginning."""
    made = tempfile.TemporaryFile()  # noqa: SIM115 whoever takes it closes it
    with zipfile.ZipFile(made, "w", zipfile.ZIP_DEFLATED, compresslevel=4) as archive:
        with one_moment():
            for model in WAYS:
                put_table(archive, model._meta.model_name, rows_of(model, customer), columns_of(model))
            papers = rows_of(PaperOut, customer).values_list("file", flat=True)
            photos = rows_of(Photo, customer).values_list("file", "thumbnail", "original")
            names = [*papers, *(name for pair in photos for name in pair)]
        missing = [name for name in names if name and not put_file(archive, name)]
        gone = f"\nMissing files: {', '.join(missing)}\n" if missing else ""
        archive.writestr("README.txt", _README.format(when=timezone.localtime(), missing=gone))
    made.seek(0)
    return made
