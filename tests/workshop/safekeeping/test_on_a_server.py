"""Backup and restore of a workshop on PostgreSQL, by the server's own tools."""

import hashlib
import json
import os
import zipfile
from types import SimpleNamespace

import pytest
from django.db import connection

if connection.vendor != "postgresql":
    pytest.skip("only where the tests run on PostgreSQL: make testpostgres", allow_module_level=True)

import psycopg

from tests.workshop.safekeeping.test_move import address_of, empty, run, server  # noqa: F401

pytestmark = [pytest.mark.postgres, pytest.mark.long]


@pytest.fixture(scope="module")
def ready(tmp_path_factory):
    """The name of a database with one case and a session; every test has a copy of it."""
    name = f"ready_{os.getpid()}"
    with server() as opened:
        opened.execute(f"CREATE DATABASE {name}")
    folder = tmp_path_factory.mktemp("ready")
    words = ("DIALSIDE_DEMO", ""), ("DIALSIDE_DATABASE", address_of(name))
    insert = "from parts.models import Case; Case.objects.create(name='kept\\ttab')"
    for command in (("migrate", "--verbosity", "0"), ("shell", "-v", "0", "-c", insert)):
        assert run(folder, *command, **dict(words)).returncode == 0
    with psycopg.connect(address_of(name), autocommit=True) as opened:
        opened.execute(
            "INSERT INTO workshop_session (session_key, session_data, expire_date, browser, address, trusted)"
            " VALUES ('one', '', now() + '1 day', '', '', false)"
        )
    yield name
    with server() as opened:
        opened.execute(f"DROP DATABASE {name} WITH (FORCE)")


@pytest.fixture
def place(tmp_path, ready, empty):  # noqa: F811
    """A workshop on such a database of its own, with a file."""
    name = empty.rpartition("/")[2]
    with server() as opened:
        opened.execute(f"DROP DATABASE {name}")
        opened.execute(f"CREATE DATABASE {name} TEMPLATE {ready}")

    def manage(*words, **environment):
        return run(tmp_path, *words, **{"DIALSIDE_DEMO": "", "DIALSIDE_DATABASE": empty} | environment)

    def ask(sql):
        with psycopg.connect(empty, autocommit=True) as opened:
            answer = opened.execute(sql)
            return answer.fetchall() if answer.description else None

    photo = tmp_path / "workshop" / "files" / "photos" / "one.jpg"
    photo.parent.mkdir(parents=True)
    photo.write_bytes(b"a photo")
    return SimpleNamespace(manage=manage, ask=ask, photo=photo, folder=tmp_path / "workshop")


def backed_up(place):
    made = place.manage("backup")
    assert made.returncode == 0, made.stderr
    return made.stdout.split(" holds ")[0]


def cases(place):
    return [name for (name,) in place.ask("SELECT name FROM parts_case ORDER BY id")]


def test_it_is_restored_whole_and_that_is_taken_back(place):
    file = backed_up(place)
    place.ask("UPDATE parts_case SET name = 'changed'")
    place.ask("CREATE TABLE jobs_of_a_later_program (id int)")
    place.photo.unlink()
    restored = place.manage("restore", file)
    assert restored.returncode == 0, restored.stderr
    assert cases(place) == ["kept\ttab"]
    assert place.photo.read_bytes() == b"a photo"
    assert place.ask("SELECT count(*) FROM workshop_session") == [(0,)]
    assert place.ask("SELECT to_regclass('jobs_of_a_later_program')") == [(None,)]
    more = "from parts.models import Case; Case.objects.create(name='numbered on')"
    assert place.manage("shell", "-v", "0", "-c", more).returncode == 0
    taken_back = place.manage("restore", "--undo")
    assert taken_back.returncode == 0, taken_back.stderr
    assert cases(place) == ["changed"]
    assert not place.photo.exists()


def test_its_rows_are_counted_and_the_doctor_opens_it(place):
    file = backed_up(place)
    told = place.manage("doctor").stdout
    assert "can be opened" in told
    with zipfile.ZipFile(file) as archive:
        assert archive.namelist()[0] == "database.dump"
        assert b'"parts_case": 1' in archive.read("contents.json")


def spoiled(file, change):
    """The backup with its dump changed and the sum of it as changed."""
    with zipfile.ZipFile(file) as archive:
        parts = {name: archive.read(name) for name in archive.namelist()}
    parts["database.dump"] = change(parts["database.dump"])
    contents = json.loads(parts["contents.json"])
    contents["sums"]["database.dump"] = hashlib.sha256(parts["database.dump"]).hexdigest()
    parts["contents.json"] = json.dumps(contents).encode()
    with zipfile.ZipFile(file, "w") as archive:
        for name, data in parts.items():
            archive.writestr(name, data)


@pytest.mark.parametrize("change", [lambda dump: dump[: len(dump) // 2], lambda dump: b"nonsense"])
def test_a_spoiled_dump_changes_nothing(place, change):
    file = backed_up(place)
    spoiled(file, change)
    place.ask("UPDATE parts_case SET name = 'since'")
    refused = place.manage("restore", file)
    assert (refused.returncode, "is damaged" in refused.stderr) == (1, True), refused.stderr
    assert "Traceback" not in refused.stderr
    assert cases(place) == ["since"]


def test_a_restore_that_fails_half_way_changes_nothing(place):
    file = backed_up(place)
    place.ask("CREATE FUNCTION refuse() RETURNS event_trigger LANGUAGE plpgsql AS"
              " $$ BEGIN RAISE EXCEPTION 'no new tables today'; END $$")  # fmt: skip
    place.ask(
        "CREATE EVENT TRIGGER no_tables ON ddl_command_start WHEN TAG IN ('CREATE TABLE') EXECUTE FUNCTION refuse()"
    )
    place.ask("UPDATE parts_case SET name = 'since'")
    refused = place.manage("restore", file)
    assert (refused.returncode, "Nothing was changed. psql says: no new tables today." in refused.stderr) == (1, True)
    assert cases(place) == ["since"]
    assert place.photo.exists()
    assert not list(place.folder.glob("before-restore-*"))


def test_what_a_newer_program_wrote_is_refused(place):
    place.ask("INSERT INTO django_migrations (app, name, applied) VALUES ('jobs', '9999_future', now())")
    file = backed_up(place)
    refused = place.manage("restore", file)
    assert "was made by a newer Dialside (jobs 9999_future)" in refused.stderr


def test_a_backup_of_a_file_is_not_taken_for_one(place, tmp_path):
    other = tmp_path / "other"
    assert run(other, "migrate", "--verbosity", "0", DIALSIDE_DEMO="").returncode == 0
    made = run(other, "backup", DIALSIDE_DEMO="").stdout.split(" holds ")[0]
    assert "is of the other kind of database: this workshop is on PostgreSQL" in place.manage("restore", made).stderr


def test_without_the_tools_it_says_what_to_install(place, tmp_path):
    refused = place.manage("backup", PATH=str(tmp_path))
    assert (refused.returncode, "pg_dump is not installed here" in refused.stderr) == (1, True), refused.stderr


def test_an_empty_database_beside_backups_begins_no_empty_workshop(place):
    file = backed_up(place)
    place.ask("DROP SCHEMA public CASCADE")
    place.ask("CREATE SCHEMA public")
    ready = "from workshop.safekeeping import safe_migrate; safe_migrate.bring_up_to_date()"
    told = place.manage("shell", "-v", "0", "-c", ready).stderr
    assert "There is no database on the server, or an empty one, but backups lie in" in told
    assert place.manage("restore", file).returncode == 0
    assert cases(place) == ["kept\ttab"]
