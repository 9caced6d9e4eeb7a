"""Tables as open files in a ZIP: CSV for spreadsheets, JSON that loses nothing.

In CSV an empty cell may be nothing or an empty text, and what looks like a formula has a ' in front; JSON tells both
apart and holds every value as it is stored. Times are in UTC.
"""

import csv
import io
import json
import shutil
from contextlib import contextmanager
from datetime import datetime, time

from django.core.files.storage import default_storage
from django.core.serializers.json import DjangoJSONEncoder
from django.db import connection

from parts.tools.spreadsheet import guarded

_AT_ONCE = 1000
_BEGIN = {"sqlite": "BEGIN DEFERRED", "postgresql": "BEGIN ISOLATION LEVEL REPEATABLE READ READ ONLY"}


class WholeTimes(DjangoJSONEncoder):
    """Django's own, without cutting the time of day to milliseconds."""

    def default(self, value):
        return value.isoformat() if isinstance(value, datetime | time) else super().default(value)


@contextmanager
def one_moment():
    """Have everything that is read inside come from one moment, without holding up those who write."""
    if connection.in_atomic_block:
        yield
        return
    with connection.cursor() as cursor:
        cursor.execute(_BEGIN[connection.vendor])
        try:
            yield
        finally:
            cursor.execute("ROLLBACK")


def columns_of(model, leave_out=()):
    """The names of a table's columns, without those left out."""
    return [field.attname for field in model._meta.concrete_fields if field.attname not in leave_out]


def put_table(archive, name, rows, columns, folder=""):
    """Write rows into the archive as `csv/name.csv` and `json/name.json`; returns how many."""
    lines, count = rows.order_by("pk").values_list(*columns), 0
    with archive.open(f"{folder}json/{name}.json", "w") as raw, io.TextIOWrapper(raw, "utf-8") as out:
        for line in lines.iterator(_AT_ONCE):
            out.write(",\n" if count else "[\n")
            json.dump(dict(zip(columns, line, strict=True)), out, cls=WholeTimes, ensure_ascii=False)
            count += 1
        out.write("\n]\n" if count else "[]\n")
    with archive.open(f"{folder}csv/{name}.csv", "w") as raw, io.TextIOWrapper(raw, "utf-8-sig", newline="") as out:
        writer = csv.writer(out)
        writer.writerow(columns)
        for line in lines.iterator(_AT_ONCE):
            writer.writerow([guarded(_cell(value)) for value in line])
    return count


def put_json(archive, name, value):
    """Write one value into the archive as JSON."""
    archive.writestr(name, json.dumps(value, cls=WholeTimes, ensure_ascii=False, indent=2) + "\n")


def put_file(archive, name):
    """Copy a kept file into the archive under `files/`; tells whether it was there."""
    try:
        with (
            default_storage.open(name) as source,
            archive.open(f"files/{name}", "w", force_zip64=True) as target,
        ):
            shutil.copyfileobj(source, target)
    except FileNotFoundError:
        return False
    return True


def _cell(value):
    if value is None:
        return ""
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, str):
        return value
    if isinstance(value, dict | list):
        return json.dumps(value, cls=WholeTimes, ensure_ascii=False)
    return value.isoformat() if hasattr(value, "isoformat") else str(value)
