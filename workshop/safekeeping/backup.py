"""Backups: one file with a consistent copy of database and files, checked by opening it again.

A backup is a ZIP with `database.sqlite3` (copied by SQLite's own backup while others write), `files/`, and
`contents.json`: sums of every file and the number of rows of every table. Photos and papers are written before their
rows, so the files are copied after the database and hold all that its rows name. Where a passphrase is set, the ZIP is
sealed with it (`workshop/safekeeping/sealing.py`).
"""

import hashlib
import json
import os
import shutil
import sqlite3
import tempfile
import zipfile
from contextlib import closing
from datetime import UTC, datetime, timedelta
from pathlib import Path

from django.conf import settings
from django.core.files.storage import FileSystemStorage, default_storage

from workshop.outside_errors import sentence_for
from workshop.safekeeping import backup_failure, sealing

KEPT = 14
"""Newest backups that are kept; besides them the first of each of the last MONTHS."""
MONTHS = 12
OLD = timedelta(days=2)
"""From this age on the last backup is called old."""
_STAMP = "%Y%m%d-%H%M%S"
_NAME = f"dialside-{_STAMP}.zip"
_SEALED_NAME = f"dialside-{_STAMP}-encrypted.zip"


class BackupError(Exception):
    """A backup that cannot be made or used; says why and what to do."""


def folder():
    return settings.DIALSIDE_FOLDER / "backups"


def backups():
    """The backups that lie in the folder, oldest first."""
    return sorted(folder().glob("dialside-*.zip"))


def age_of_last(now=None):
    """How old the newest backup is; None where there is none."""
    made = backups()
    if not made:
        return None
    return (now or datetime.now(UTC)) - datetime.fromtimestamp(made[-1].stat().st_mtime, UTC)


def make_backup():
    """Make, check and keep a backup, then drop those no longer kept; returns its path. Raises BackupError."""
    database = _database()
    try:
        folder().mkdir(parents=True, exist_ok=True)
        with tempfile.TemporaryDirectory(dir=folder()) as place:
            copy, packed = Path(place) / "database.sqlite3", Path(place) / "backup.zip"
            with closing(sqlite3.connect(database)) as source, closing(sqlite3.connect(copy)) as target:
                source.backup(target)
            phrase = sealing.passphrase()
            _pack(packed, copy, settings.MEDIA_ROOT)
            name = _NAME
            if phrase:
                plain, packed, name = packed, Path(place) / "sealed.zip", _SEALED_NAME
                sealing.seal(plain, packed, phrase)
            check_backup(packed)
            made = folder() / datetime.now(UTC).strftime(name)
            os.replace(packed, made)
    except sealing.SealError as error:
        raise BackupError(f"The backup was not made. {error}") from error
    except OSError as error:
        reason = f"The backup was not made: {error.strerror} ({error.filename})."
        raise BackupError(f"{reason} Free some space, or point DIALSIDE_DATA to another folder.") from error
    except sqlite3.Error as error:
        reason = sentence_for(error) or f"The database could not be copied ({error}). Run make doctor."
        raise BackupError(f"The backup was not made. {reason}") from error
    backup_failure.clear()
    _rotate(made)
    return made


def is_ours():
    """Whether backups of this workshop's database are made here: on SQLite they are."""
    return settings.DATABASES["default"]["ENGINE"].endswith("sqlite3")


def _database():
    if not is_ours():
        raise BackupError("This workshop is on PostgreSQL; back it up with pg_dump, and copy its folder of files.")
    return settings.DATABASES["default"]["NAME"]


def _pack(packed, copy, files):
    contents = {"made": datetime.now(UTC).isoformat(), "rows": count_rows(copy), "sums": {}}
    contents["files_elsewhere"] = files_elsewhere()
    with zipfile.ZipFile(packed, "w", zipfile.ZIP_DEFLATED, compresslevel=1, strict_timestamps=False) as archive:
        for path, name in [(copy, "database.sqlite3"), *_files(Path(files))]:
            archive.write(path, name)
            contents["sums"][name] = _sum(path.open("rb"))
        archive.writestr("contents.json", json.dumps(contents))


def _files(root):
    if files_elsewhere():
        return []
    return [(path, f"files/{path.relative_to(root)}") for path in sorted(root.rglob("*")) if path.is_file()]


def files_elsewhere():
    """Tell whether photos and papers lie in a storage of their own, which backups leave to it."""
    return not isinstance(default_storage, FileSystemStorage)


def _sum(opened):
    with opened as file:
        return hashlib.file_digest(file, "sha256").hexdigest()


def count_rows(database):
    """Rows of every table of an SQLite file. Raises BackupError where the file is damaged."""
    try:
        with closing(sqlite3.connect(f"file:{database}?mode=ro", uri=True)) as opened:
            if (verdict := opened.execute("PRAGMA integrity_check").fetchone()[0]) != "ok":
                raise BackupError(f"The database is damaged: {verdict}.")
            tables = opened.execute("SELECT name FROM sqlite_master WHERE type = 'table' AND name NOT LIKE 'sqlite_%'")
            return {
                name: opened.execute(f'SELECT count(*) FROM "{name}"').fetchone()[0] for (name,) in tables.fetchall()
            }
    except sqlite3.DatabaseError as error:
        raise BackupError(f"The database is damaged: {error}.") from error


def check_backup(path, into=None):
    """Open a backup again: every sum, and the rows of its database; unpacked `into` a folder where one is named.

    Returns its contents. Raises BackupError for a file that is no backup, or not whole.
    """
    with tempfile.TemporaryDirectory(dir=folder() if folder().exists() else None) as place:
        if not sealing.is_sealed(path):
            return _check_plain(path, Path(into or place), path)
        plain = Path(place) / "opened.zip"
        try:
            sealing.unseal(path, plain)
        except sealing.SealError as error:
            raise BackupError(str(error)) from error
        return _check_plain(plain, Path(into or place), path)


def _check_plain(opened, place, path):
    try:
        with zipfile.ZipFile(opened) as archive:
            contents = json.loads(archive.read("contents.json"))
            if set(archive.namelist()) != {*contents["sums"], "contents.json"}:
                raise BackupError(f"{path} is incomplete: files are missing or were added.")
            archive.extractall(place)
    except (zipfile.BadZipFile, KeyError, ValueError) as error:
        raise BackupError(f"{path} is not a Dialside backup, or it is damaged ({error}).") from error
    for name, known in contents["sums"].items():
        if _sum((place / name).open("rb")) != known:
            raise BackupError(f"{path} is damaged: {name} has changed.")
    if count_rows(place / "database.sqlite3") != contents["rows"]:
        raise BackupError(f"{path} is damaged: the number of rows in its database does not match.")
    return contents


def restore(path):
    """Put a backup in the place of what is there now, which is kept beside it; returns where it is kept.

    The backup is unpacked and checked in a fresh folder first. Raises BackupError, and then nothing has changed.
    """
    database, files = Path(_database()), Path(settings.MEDIA_ROOT)
    if not Path(path).is_file():
        raise BackupError(f"No file {path}. The backups are in {folder()}.")
    home = settings.DIALSIDE_FOLDER
    fresh = Path(tempfile.mkdtemp(prefix="restore-", dir=home))
    try:
        check_backup(path, into=fresh)
        before = home / f"before-restore-{datetime.now(UTC):%Y%m%d-%H%M%S-%f}"
        before.mkdir()
        for old in (database, *database.parent.glob(f"{database.name}-*"), files):
            if old.exists():
                shutil.move(old, before / old.name)
        shutil.move(fresh / "database.sqlite3", database)
        if (fresh / "files").exists():
            shutil.move(fresh / "files", files)
    finally:
        shutil.rmtree(fresh, ignore_errors=True)
    return before


def named_ahead(now=None):
    """The backups whose names are of a time that is still to come: the clock was set back after they were made."""
    latest = (now or datetime.now(UTC)).strftime(_STAMP)
    return [path for path in backups() if _stamp_of(path) > latest]


def _stamp_of(path):
    return path.name[len("dialside-") :][: len("20261125-184500")]


def _rotate(made, now=None):
    """Drop what is no longer kept; never the one just made, nor any whose time is still to come."""
    ahead = {*named_ahead(now), made}
    old = [path for path in backups() if path not in ahead]
    months = {}
    for path in old:
        months.setdefault(_stamp_of(path)[:6], path)
    to_keep = {*old[-(KEPT - 1) :], *list(months.values())[-MONTHS:]}
    for path in old:
        if path not in to_keep:
            path.unlink()
