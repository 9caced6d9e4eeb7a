"""An export read back into an empty workshop, row by row as it was: a second way to restore, on either database.

All or nothing. Passwords are in no export: the accounts are there, and their people choose new ones.
"""

from __future__ import annotations

import hashlib
import json
import zipfile
import zlib
from collections.abc import Iterator
from pathlib import Path
from typing import IO, TYPE_CHECKING, Any

from django.contrib.auth import get_user_model
from django.core.exceptions import SuspiciousFileOperation, ValidationError
from django.core.files import File
from django.core.files.storage import default_storage
from django.db import DatabaseError, connection, transaction
from django.db.models import FileField

from jobs.past.record import rebuild_all
from parts.models import Instrument
from workshop.safekeeping import export
from workshop.safekeeping.copying.rows import BATCH, count_on, fields_of, write_as_they_are

if TYPE_CHECKING:
    from django.db.models import Model

_IN_ANY_NEW_ONE = {Instrument}


class CannotImport(Exception):
    """Says why an export is not read, and what to do; nothing was changed."""


def read_export(path: Path | str) -> dict[str, int]:
    """Read an export into this workshop, which must be empty; returns the records by table. Raises CannotImport."""
    stored: list[str] = []
    try:
        with zipfile.ZipFile(path) as archive, transaction.atomic():
            facts = _facts(archive, path)
            _refuse_what_is_there()
            _check_whole(archive, path)
            counts = {name: _read_table(archive, name, model) for name, model in _models().items()}
            if counts != facts["records"]:
                raise CannotImport(_damaged(path, "it does not hold as many records as it says"))
            _read_files(archive, facts["missing"], stored)
            count_on(connection, list(_models().values()))
            connection.check_constraints()
            rebuild_all()
    except BaseException as error:
        for name in stored:
            default_storage.delete(name)
        if isinstance(error, FileNotFoundError):
            raise CannotImport(f"No file {path}.") from error
        if isinstance(error, _SIGNS_OF_DAMAGE):
            raise CannotImport(_damaged(path, error)) from error
        raise
    return counts


_SIGNS_OF_DAMAGE = (
    zipfile.BadZipFile,
    KeyError,
    TypeError,
    ValueError,
    EOFError,
    zlib.error,
    ValidationError,
    DatabaseError,
    SuspiciousFileOperation,
)


def _damaged(path, reason):
    return f"{path} is damaged: {reason}. Nothing was changed. Take another export, or restore a backup."


def _models() -> dict[str, type[Model]]:
    return {"account": get_user_model()} | {model._meta.model_name: model for model in export.tables()}


def _facts(archive, path):
    if export.FORMAT_FILE not in archive.namelist():
        raise CannotImport(f"{path} is no export of Dialside, or one from before exports could be read back.")
    facts = json.loads(archive.read(export.FORMAT_FILE))
    if (facts["format"], facts["tables"]) != (export.FORMAT, export.schema()):
        raise CannotImport(
            f"{path} was written by Dialside {facts['program']}, whose tables differ from this program's. Nothing was "
            f"changed. Import it with version {facts['program']}, then update."
        )
    return facts


def _refuse_what_is_there():
    for name, model in _models().items():
        if model not in _IN_ANY_NEW_ONE and (count := model._base_manager.count()):
            raise CannotImport(
                f"This workshop is not empty: it has {count} {name} records. Nothing was changed. Point DIALSIDE_DATA "
                "to a new folder, or DIALSIDE_DATABASE to an empty database, and import there."
            )


def _check_whole(archive, path):
    if wrong := archive.testzip():
        raise CannotImport(_damaged(path, f"{wrong} does not match its checksum"))


def _read_table(archive, name, model):
    model._base_manager.all().delete()
    fields = {field.attname: field for field in fields_of(model)}
    if name == "account":
        fields = {column: fields[column] for column in export.ACCOUNT}
    count, batch = 0, []
    with archive.open(f"json/{name}.json") as file:
        for line in _records(file):
            if line.keys() != fields.keys():
                raise KeyError(f"the columns of {name} differ")
            batch.append(_row(model, fields, line))
            if len(batch) == BATCH:
                count += len(write_as_they_are(model._base_manager, batch))
                batch = []
    return count + len(write_as_they_are(model._base_manager, batch))


def _records(file: IO[bytes]) -> Iterator[dict[str, Any]]:
    """The records of a table, one a line."""
    for line in file:
        if (text := line.decode().strip().rstrip(",")) not in ("", "[", "]", "[]"):
            yield json.loads(text)


def _row(model, fields, line):
    row = model(**{name: _value(fields[name], value) for name, value in line.items()})
    if model is get_user_model():
        row.set_unusable_password()
    return row


def _value(field, value):
    return field.target_field.to_python(value) if field.is_relation else field.to_python(value)


def _read_files(archive, missing, stored):
    for model in export.tables():
        for field in (field for field in model._meta.fields if isinstance(field, FileField)):
            named = model._base_manager.exclude(**{field.name: ""}).values_list(field.name, flat=True)
            for name in (name for name in named if name and name not in missing):
                if default_storage.exists(name):
                    _refuse_another(archive, name)
                    continue
                with archive.open(f"files/{name}") as source:
                    stored.append(default_storage.save(name, File(source)))


def _refuse_another(archive, name):
    """A file that an import left that was cut off is the same; any other one is not written over."""
    with archive.open(f"files/{name}") as source, default_storage.open(name) as there:
        if hashlib.file_digest(source, "sha256").digest() != hashlib.file_digest(there, "sha256").digest():
            raise CannotImport(
                f"The folder of files already has {name}, and it is another one. Nothing was changed. "
                "Import into a new folder."
            )
