"""A new workshop, made at once, has the same tables as one that went through every step of its updates."""

import os
import subprocess
import sys
from contextlib import closing
from pathlib import Path

import pytest
from django.db.utils import ConnectionHandler

from tests.ready import put_ready_database

pytestmark = pytest.mark.long
ROOT = Path(__file__).resolve().parents[3]
STEP_BY_STEP = """
from tests.jobs.migrations import newest
newest()
"""


def opened(file):
    return ConnectionHandler({"default": {"ENGINE": "django.db.backends.sqlite3", "NAME": file}})["default"]


def tables(connection):
    """Every table's columns, with their types, and constraints, without the names that the database chose."""
    with connection.cursor() as cursor:
        names = connection.introspection.table_names(cursor)
        return {name: (_columns(connection, cursor, name), _constraints(connection, cursor, name)) for name in names}


def _columns(connection, cursor, table):
    columns = connection.introspection.get_table_description(cursor, table)
    return sorted((column.name, column.type_code, column.null_ok, column.default) for column in columns)


def _constraints(connection, cursor, table):
    constraints = connection.introspection.get_constraints(cursor, table).values()
    return sorted(repr(sorted(constraint.items())) for constraint in constraints)


def rows(connection, sql):
    with connection.cursor() as cursor:
        cursor.execute(sql)
        return sorted(cursor.fetchall())


def test_both_ways_lead_to_the_same_tables(tmp_path, django_db_blocker):
    put_ready_database(tmp_path / "at-once.sqlite3")
    env = {name: value for name, value in os.environ.items() if not name.startswith(("DIALSIDE_", "DJANGO_"))}
    call = [sys.executable, "manage.py", "shell", "-v", "0", "-c", STEP_BY_STEP]
    subprocess.run(call, cwd=ROOT, env=env | {"DIALSIDE_DATA": str(tmp_path)}, check=True)
    with (
        django_db_blocker.unblock(),
        closing(opened(tmp_path / "at-once.sqlite3")) as at_once,
        closing(opened(tmp_path / "workshop" / "dialside.sqlite3")) as by_steps,
    ):
        assert tables(at_once) == tables(by_steps)
        for sql, least in (
            ("SELECT name, sql FROM sqlite_master WHERE type = 'trigger'", 3),
            ("SELECT name FROM parts_instrument", 1),
        ):
            assert rows(at_once, sql) == rows(by_steps, sql)
            assert len(rows(at_once, sql)) >= least
