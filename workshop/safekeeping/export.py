"""Everything that the workshop holds as open files in one ZIP, so that nobody is locked in.

It is read as it stood at one moment while others go on writing. Passwords, devices that are signed in, links and the
workshop's keys stay out.
"""

import tempfile
import zipfile
from datetime import UTC, datetime

from django.apps import apps
from django.conf import settings
from django.contrib.auth import get_user_model
from django.db.migrations.loader import MigrationLoader
from django.db.models import FileField

from jobs.models import OptionReport, Past, PastCheck, PastText, PastWord, StaleRecord
from parts.csv import files as csv_files
from parts.library import part_records
from parts.library.kinds import KINDS
from parts.models import Pairing
from parts.rules.shop import shop_rules
from parts.sheets import sheet_of
from parts.tools import open_files
from workshop.version import VERSION

DERIVED = {Past, PastCheck, PastText, PastWord, StaleRecord}
"""Tables that follow from the others and are made anew from them."""
_ROOMS = ("jobs", "parts")
ACCOUNT = ["id", "username", "is_active", "is_staff", "is_superuser", "date_joined", "last_login"]
_NAME = "dialside-export-%Y%m%d-%H%M%S.zip"
FORMAT = 1
"""Number of the format; another one once a program that reads this one could not read it any more."""
FORMAT_FILE = "format.json"
_README = """Dialside: everything that this workshop holds, as open files
Written {when:%Y-%m-%d %H:%M} UTC by Dialside {version}, in format {format}.

`make import FILE=...` reads it into an empty workshop, row by row as it was. Everybody then chooses a new password.

format.json  the number of this format, the version of the program and of its tables, the records of each table,
           and the files that were missing. The import checks all of it.
json/      one file a table, a list of records, one a line, with every value as it is stored. Names that end in _id
           are the id of a record in another table. This is the lossless form, and all that the import reads.
csv/       the same tables for a spreadsheet: UTF-8, commas, headings in row 1. A text that a spreadsheet
           would take for a formula has a ' in front.
library/   the parts in the drawers as the workshop itself imports them (Parts, Import).
sheets/    one pairing sheet for each pairing, by its id, with the shop's bench rules and the what-if changes as typed.
reports/   the fit reports that were kept, by job number and id.
files/     photos, papers and the logo, under the names that the records give.

Lengths are in mm, angles in degrees, times in UTC; amounts of money in the currency of their quote or shop.
A name that ends in _pm is the plus-minus of the number before it, _source where that number comes from.
Left out: passwords, devices that are signed in, links, keys, the log of sign-ins; and the records of past swaps,
which the workshop makes anew from the jobs.
{missing}
Tables and their records:
{tables}
"""


def file_name(now=None):
    """The name of an export made now."""
    return (now or datetime.now(UTC)).strftime(_NAME)


def export_file():
    """An open temporary file with the export, at its beginning. It is gone once it is closed."""
    made = tempfile.TemporaryFile(dir=settings.DIALSIDE_FOLDER)  # noqa: SIM115 whoever takes it closes it
    write_export(made)
    made.seek(0)
    return made


def write_export(target):
    """Write the ZIP into an open binary file; returns the records of every table by its name."""
    with zipfile.ZipFile(target, "w", zipfile.ZIP_DEFLATED, compresslevel=4) as archive:
        with open_files.one_moment():
            counts = {"account": open_files.put_table(archive, "account", get_user_model().objects, ACCOUNT)}
            for model in tables():
                name = model._meta.model_name
                counts[name] = open_files.put_table(
                    archive, name, model._base_manager.all(), open_files.columns_of(model)
                )
            _put_library(archive)
            _put_sheets(archive)
            names = list(_file_names())
        missing = [name for name in names if not open_files.put_file(archive, name)]
        archive.writestr("README.txt", _readme(counts, missing))
        facts = {"format": FORMAT, "program": VERSION, "tables": schema(), "records": counts, "missing": missing}
        open_files.put_json(archive, FORMAT_FILE, facts)
    return counts


def schema():
    """The version of the tables: the last change of each room."""
    names = MigrationLoader(None, ignore_no_migrations=True).disk_migrations
    return {room: max(name for label, name in names if label == room) for room in _ROOMS}


def tables():
    """Every table that is exported, besides the accounts."""
    return [model for label in _ROOMS for model in apps.get_app_config(label).get_models() if model not in DERIVED]


def _put_library(archive):
    for kind in KINDS.values():
        texts = csv_files.exports(kind=kind, records=part_records.find(kind=kind), sees_money=True)
        for number, text in enumerate(texts, 1):
            name = kind.slug if len(texts) == 1 else f"{kind.slug}-{number}"
            archive.writestr(f"library/{name}.csv", f"\ufeff{text}")


def _put_sheets(archive):
    rules = shop_rules()
    for pairing in Pairing.objects.with_parts().order_by("pk").iterator(200):
        sheet = sheet_of(pairing) | {"rules": rules, "what_if": pairing.what_if}
        open_files.put_json(archive, f"sheets/{pairing.pk}.json", sheet)
    reports = OptionReport.objects.order_by("pk").values_list("option__job__number", "pk", "report")
    for number, pk, report in reports.iterator(200):
        open_files.put_json(archive, f"reports/{number}-{pk}.json", report)


def _file_names():
    """Every file that a record names."""
    for model in tables():
        for field in (field for field in model._meta.fields if isinstance(field, FileField)):
            named = model._base_manager.exclude(**{field.name: ""}).order_by("pk")
            yield from (name for name in named.values_list(field.name, flat=True) if name)


def _readme(counts, missing):
    gaps = f"Missing files that records name: {', '.join(missing)}\n" if missing else ""
    tables = "\n".join(f"{count:8}  {name}" for name, count in sorted(counts.items()))
    return _README.format(when=datetime.now(UTC), version=VERSION, format=FORMAT, missing=gaps, tables=tables)
