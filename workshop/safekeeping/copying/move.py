"""Moving a workshop to another database: every row copied, then both sides compared row by row.

The files (photos, papers) stay where they are; only rows move. What stands in any new database - kinds of content
and their rights, the usual instruments - is replaced by the rows of the old one, so that their numbers stay.
"""

import hashlib
import json

import dj_database_url
from django.apps import apps
from django.core.management import call_command
from django.db import DatabaseError, connections, transaction

from workshop.safekeeping.copying.rows import BATCH, count_on, fields_of, write_as_they_are

TARGET = "target"
_IN_ANY_NEW_ONE = {"contenttypes.contenttype", "auth.permission", "parts.instrument"}


class CannotMove(Exception):
    """Says why the rows cannot be moved; the old database is as it was, the new one has none of them."""


def move(url):
    """Copy all rows into the empty database at the address; returns the number of rows by model. Raises CannotMove."""
    try:
        there = dj_database_url.parse(url)
    except (dj_database_url.ParseError, dj_database_url.UnknownSchemeError, ValueError) as error:
        raise CannotMove(f"{url} is not a database address. Write it like postgres://user@host/name.") from error
    connections.databases[TARGET] = connections["default"].settings_dict | {"OPTIONS": {}, "CONN_MAX_AGE": 0} | there
    try:
        call_command("migrate", database=TARGET, interactive=False, verbosity=0)
        with transaction.atomic(using=TARGET):
            _refuse_what_is_there()
            for model in reversed(_models()):
                model._base_manager.using(TARGET).all().delete()
            counts = {model._meta.label: _copy(model) for model in _models()}
            count_on(connections[TARGET], _models())
            for model in _models():
                _compare(model)
    except DatabaseError as error:
        raise CannotMove(f"The new database refused: {str(error).strip()}. Nothing was moved.") from error
    finally:
        connections[TARGET].close()
    return counts


def _models():
    """Every table, those of relations between models included."""
    return [
        model for model in apps.get_models(include_auto_created=True) if model._meta.managed and not model._meta.proxy
    ]


def _refuse_what_is_there():
    for model in _models():
        label = model._meta.label
        if label.lower() not in _IN_ANY_NEW_ONE and model._base_manager.using(TARGET).exists():
            raise CannotMove(f"The new database already has {label} rows. Use an empty one; nothing was moved.")


def _rows(model, using):
    names = [field.attname for field in fields_of(model)]
    return model._base_manager.using(using).order_by("pk").values_list(*names).iterator(chunk_size=BATCH)


def _copy(model):
    names, count, batch = [field.attname for field in fields_of(model)], 0, []
    into = model._base_manager.using(TARGET)
    for row in _rows(model, "default"):
        batch.append(model(**dict(zip(names, row, strict=True))))
        if len(batch) == BATCH:
            count += len(write_as_they_are(into, batch))
            batch = []
    return count + len(write_as_they_are(into, batch))


def _compare(model):
    if _sum(model, "default") != _sum(model, TARGET):
        raise CannotMove(f"The {model._meta.label} rows differ between the two databases. Nothing was moved.")


def _sum(model, using):
    digest = hashlib.sha256()
    for row in _rows(model, using):
        digest.update(repr([_plain(value) for value in row]).encode())
    return digest.hexdigest()


def _plain(value):
    """The value such that both databases tell it alike: they keep the names in a JSON object in different orders."""
    return json.dumps(value, sort_keys=True) if isinstance(value, dict | list) else value
