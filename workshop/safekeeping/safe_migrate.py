"""Before the database is brought up to date: is it whole, is it newer than the program; and a copy to go back to."""

import shutil
import sqlite3
from collections.abc import Iterable, Mapping
from contextlib import closing
from datetime import UTC, datetime
from pathlib import Path

from django.conf import settings
from django.core.management import call_command
from django.db import DatabaseError, connection
from django.db.migrations import Migration
from django.db.migrations.executor import MigrationExecutor

from workshop.outside_errors import sentence_for
from workshop.safekeeping import backup

COPIES = 3
"""Newest copies from before an update that are kept."""


class NotReady(Exception):
    """Says in sentences why the database cannot be used and what to do."""


def bring_up_to_date():
    """Migrate; from a copy kept before where there is anything to lose. Raises NotReady, the database as it was."""
    try:
        waiting, unknown, begun = migrations()
        if unknown:
            raise NotReady(
                f"The database was written by a newer Dialside ({', '.join(unknown[:3])}). Update the program to that "
                f"version or a later one, or put back a backup made with this one. {way_back()}"
            )
        if not waiting:
            return
        if not begun and backup.backups():
            where = f"in {settings.DIALSIDE_FOLDER}" if connection.vendor == "sqlite" else "on the server"
            raise NotReady(
                f"There is no database {where}, or an empty one, but backups lie in {backup.folder()}. {way_back()} "
                f"To begin with an empty workshop all the same, move {backup.folder()} away first."
            )
        copy = _copy() if begun else None
        try:
            call_command("migrate", interactive=False, verbosity=0)
        except Exception as error:
            raise NotReady(_after_failure(copy, error)) from error
    except (DatabaseError, sqlite3.DatabaseError, OSError) as error:
        sentence = sentence_for(error) or f"The database cannot be opened: {error}."
        raise NotReady(f"{sentence} {way_back()}") from error


def migrations():
    """Migrations that wait, names that no program of this version wrote, and whether any was applied."""
    executor = MigrationExecutor(connection)
    applied = executor.loader.applied_migrations
    unknown = of_no_program(applied, executor.loader.disk_migrations)
    return executor.migration_plan(executor.loader.graph.leaf_nodes()), unknown, bool(applied)


def of_no_program(applied: Iterable[tuple[str, str]], known: Mapping[tuple[str, str], Migration]) -> list[str]:
    """The applied migrations of our own rooms that no program of this version wrote, as "jobs 0999_future"."""
    ours = {app for app, _ in known}
    replaced = {old for migration in known.values() for old in migration.replaces}
    return sorted(f"{app} {name}" for app, name in {*applied} - {*known} - replaced if app in ours)


def _copy():
    """A copy of the SQLite file as it is before the update; None on PostgreSQL, where a failed step undoes itself."""
    if connection.vendor != "sqlite":
        return None
    copy = settings.DIALSIDE_FOLDER / f"before-update-{datetime.now(UTC):%Y%m%d-%H%M%S-%f}.sqlite3"
    with closing(sqlite3.connect(connection.settings_dict["NAME"])) as source, closing(sqlite3.connect(copy)) as target:
        source.backup(target)
    for old in sorted(settings.DIALSIDE_FOLDER.glob("before-update-*.sqlite3"))[:-COPIES]:
        old.unlink()
    return copy


def _after_failure(copy, error):
    sentence = sentence_for(error) or f"The update of the database failed: {error}."
    if copy is None:
        return f"{sentence} Its finished steps stay, the failed one was undone."
    connection.close()
    database = Path(connection.settings_dict["NAME"])
    for part in database.parent.glob(f"{database.name}-*"):
        part.unlink()
    shutil.copy(copy, database)
    return f"{sentence} The database is as it was before, and a copy of it is in {copy}."


def way_back():
    """How to put the newest backup back, in a sentence; empty where there is none."""
    made = backup.backups()
    return f"The newest backup is {made[-1]}; make restore FILE={made[-1]} puts it back." if made else ""
