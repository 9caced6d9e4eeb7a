"""Backups: one file with a consistent copy of database and files, checked by opening it again.

A backup is a ZIP with a copy of the database, made by the database's own means while others write
(`workshop/safekeeping/databases`), `files/`, and `contents.json`: sums of every file and the number of rows of every
table. Photos and papers are written before their rows, so the files are copied after the database and hold all that its
rows name. Where a passphrase is set, the ZIP is sealed with it (`workshop/safekeeping/sealing.py`).
"""

import hashlib
import json
import os
import zipfile
import zlib
from datetime import UTC, datetime, timedelta
from pathlib import Path

from django.conf import settings
from django.core.files.storage import FileSystemStorage, default_storage

from parts.tools.disk import sync
from workshop.outside_errors import sentence_for
from workshop.safekeeping import backup_failure, sealing
from workshop.safekeeping.databases import NAMES, own_database
from workshop.safekeeping.databases.trouble import Trouble
from workshop.safekeeping.durable import PART
from workshop.safekeeping.workplace import workplace

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
    """Make, check and keep a backup, then drop those no longer kept; returns its path. Raises BackupError.

    Under a passphrase it is encrypted as it is packed. It is on the disk before an older one goes.
    """
    database = own_database()
    try:
        folder().mkdir(mode=0o700, parents=True, exist_ok=True)
        with workplace() as place:
            copy = place / database.name
            database.copy(copy)
            phrase = sealing.passphrase()
            packed = place / "backup.zip"
            with packed.open("wb") as file:
                if phrase:
                    sealing.seal(lambda plain: _pack(plain, copy, settings.MEDIA_ROOT), file, phrase)
                else:
                    _pack(file, copy, settings.MEDIA_ROOT)
            check_backup(packed)
            made = folder() / datetime.now(UTC).strftime(_SEALED_NAME if phrase else _NAME)
            sync(packed)
            os.replace(packed, made)
            sync(made)
    except (Trouble, sealing.SealError) as error:
        raise BackupError(f"The backup was not made. {error}") from error
    except OSError as error:
        reason = sentence_for(error) or f"{error.strerror}: {error.filename}."
        raise BackupError(f"The backup was not made. {reason}") from error
    backup_failure.clear()
    _rotate(made)
    return made


def _pack(packed, copy, files):
    """Write the backup's ZIP into an opened file, which need not be one that can go back."""
    contents = {"made": datetime.now(UTC).isoformat(), "rows": own_database().rows(copy), "sums": {}}
    contents["files_elsewhere"] = files_elsewhere()
    with zipfile.ZipFile(packed, "w", zipfile.ZIP_DEFLATED, compresslevel=1, strict_timestamps=False) as archive:
        archive.write(copy, copy.name)
        contents["sums"][copy.name] = _sum(copy.open("rb"))
        for path, name in _files(Path(files)):
            try:
                checksum = _sum(path.open("rb"))
                archive.write(path, name)
            except FileNotFoundError:
                continue  # erased since the folder was listed
            contents["sums"][name] = checksum
        archive.writestr("contents.json", json.dumps(contents))


def _files(root):
    if files_elsewhere():
        return []
    whole = (path for path in root.rglob("*") if path.suffix != PART and path.is_file())
    return [(path, f"files/{path.relative_to(root)}") for path in sorted(whole)]


def files_elsewhere():
    """Tell whether photos and papers lie in a storage of their own, which backups leave to it."""
    return not isinstance(default_storage, FileSystemStorage)


def _sum(opened):
    with opened as file:
        return hashlib.file_digest(file, "sha256").hexdigest()


def check_backup(path, into=None):
    """Open a backup again: every sum, and the rows of its database; unpacked `into` a folder where one is named.

    Returns its contents. Raises BackupError for a file that is no backup, or not whole.
    """
    with workplace() as place:
        if not sealing.is_sealed(path):
            return _check_plain(path, Path(into or place), path)
        plain = place / "opened.zip"
        try:
            sealing.unseal(path, plain)
        except sealing.SealError as error:
            raise BackupError(str(error)) from error
        return _check_plain(plain, Path(into or place), path)


_NO_BACKUP = (
    zipfile.BadZipFile,
    zlib.error,
    EOFError,
    KeyError,
    TypeError,
    ValueError,
    NotImplementedError,
    RuntimeError,
)
"""What reading a file raises that is no ZIP of ours, or is damaged."""


def _is_ours(name):
    """Whether a file of that name can be in a backup: its database, or one below its folder of files."""
    steps = name.split("/")
    return name in NAMES or (steps[0] == "files" and len(steps) > 1 and not {"", ".", ".."} & {*steps})


def _check_plain(opened, place, path):
    try:
        with zipfile.ZipFile(opened) as archive:
            contents = json.loads(archive.read("contents.json"))
            sums, _ = {**contents["sums"]}, {**contents["rows"]}
            if sorted(archive.namelist()) != sorted([*sums, "contents.json"]) or not all(map(_is_ours, sums)):
                raise BackupError(f"{path} is incomplete: files are missing or were added.")
            if own_database().name not in sums:
                raise BackupError(
                    f"{path} is of the other kind of database: this workshop is {own_database().words}. Restore "
                    "it in a workshop of its own kind, then take that over by make move, or by an export."
                )
            archive.extractall(place)
    except _NO_BACKUP as error:
        raise BackupError(f"{path} is not a Dialside backup, or it is damaged. Choose another one.") from error
    for name, known in contents["sums"].items():
        if _sum((place / name).open("rb")) != known:
            raise BackupError(f"{path} is damaged: {name} has changed.")
    database = own_database()
    try:
        rows = database.rows(place / database.name)
    except Trouble as error:
        raise BackupError(f"{path} is damaged. {error}") from error
    if rows != contents["rows"]:
        raise BackupError(f"{path} is damaged: the number of rows in its database does not match.")
    return contents


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
