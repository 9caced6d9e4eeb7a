"""Moving a workshop from its file to PostgreSQL: every row is there afterwards, and work goes on."""

import os
import subprocess
import sys

import pytest
from django.conf import settings
from django.db import connection

if connection.vendor != "postgresql":
    pytest.skip("only where the tests run on PostgreSQL: make testpostgres", allow_module_level=True)

import psycopg

from tests.ready import put_ready_database

pytestmark = [pytest.mark.postgres, pytest.mark.long]

READY = (
    "from workshop.safekeeping import safe_migrate; safe_migrate.bring_up_to_date();"
    "from django.core.management import call_command; call_command('loaddemo')"
)
LOG = (
    "from jobs.models import Job; from parts.models import Case; c = Case.objects.create(name='after the move');"
    "print(Job.objects.count(), Case.objects.count(), c.pk)"
)


def server():
    chosen = connection.settings_dict
    return psycopg.connect(
        host=chosen["HOST"],
        port=chosen["PORT"],
        user=chosen["USER"],
        password=chosen["PASSWORD"],
        dbname="postgres",
        autocommit=True,
    )


def address_of(name):
    """A database of that name on the server that the tests run on."""
    chosen = connection.settings_dict
    return f"postgres://{chosen['USER']}:{chosen['PASSWORD']}@{chosen['HOST']}:{chosen['PORT']}/{name}"


@pytest.fixture
def empty():
    """The address of an empty database on the server that the tests run on."""
    name = f"moved_{os.getpid()}"
    with server() as opened:
        opened.execute(f"CREATE DATABASE {name}")
    yield address_of(name)
    with server() as opened:
        opened.execute(f"DROP DATABASE {name} WITH (FORCE)")


def run(folder, *command, **environment):
    given = os.environ | {"DIALSIDE_DATA": str(folder), "DJANGO_SETTINGS_MODULE": "workshop.settings"}
    given |= {"DIALSIDE_DEMO": "1", "DIALSIDE_DATABASE": ""} | environment
    return subprocess.run(
        [sys.executable, "manage.py", *command], cwd=settings.BASE_DIR, env=given, capture_output=True, text=True
    )


def test_every_row_moves_and_new_ones_are_numbered_on(tmp_path, empty):
    assert run(tmp_path, "shell", "-v", "0", "-c", READY).returncode == 0
    before = run(tmp_path, "shell", "-v", "0", "-c", LOG).stdout.split()
    moved = run(tmp_path, "move", empty)
    assert moved.returncode == 0, moved.stderr
    assert "each matches the old" in moved.stdout
    after = run(tmp_path, "shell", "-v", "0", "-c", LOG, DIALSIDE_DEMO="", DIALSIDE_DATABASE=empty)
    jobs, cases, newest = map(int, before)
    assert after.stdout.split() == [str(jobs), str(cases + 1), str(newest + 1)], after.stderr
    again = run(tmp_path, "move", empty)
    assert (again.returncode, "rows. Use an empty one; nothing was moved." in again.stderr) == (1, True)


def test_an_address_that_leads_nowhere_is_told(tmp_path):
    put_ready_database(tmp_path / "demo" / "dialside.sqlite3")
    told = run(tmp_path, "move", "postgres://nobody@127.0.0.1:9/none")
    assert (told.returncode, "The new database refused" in told.stderr) == (1, True)
    assert "Traceback" not in told.stderr
    odd = run(tmp_path, "move", "elsewhere")
    assert (odd.returncode, "is not a database address" in odd.stderr) == (1, True)
