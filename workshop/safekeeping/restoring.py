"""Putting a backup back, and taking that back: what is there is kept beside it each time."""

import shutil
from datetime import UTC, datetime
from pathlib import Path

from django.conf import settings
from django.db.migrations.loader import MigrationLoader

from workshop.safekeeping.backup import BackupError, check_backup, folder
from workshop.safekeeping.databases import own_database
from workshop.safekeeping.databases.trouble import Trouble
from workshop.safekeeping.safe_migrate import of_no_program
from workshop.safekeeping.workplace import workplace

_KEPT = "before-restore-"
_COMING, _COMING_SIGNED_OUT = "coming-in", "coming-in-signed-out"
"""What is put in the place of what is there lies in one of these until all of it has its place."""


def restore(path: Path | str) -> Path:
    """Put a backup in the place of what is there now, which is kept beside it; returns where it is kept.

    The backup is unpacked and checked in a fresh folder first. Nobody is signed in afterwards. Raises BackupError, and
    then nothing has changed.
    """
    if not Path(path).is_file():
        raise BackupError(f"No file {path}. The backups are in {folder()}.")
    go_on()
    with workplace() as fresh:
        check_backup(path, into=fresh)
        _refuse_newer(fresh / own_database().name, path)
        before = _kept_now()
        (fresh / "files").mkdir(exist_ok=True)
        contents = fresh / "contents"
        contents.mkdir(mode=0o700)
        for name in (own_database().name, "files"):
            (fresh / name).rename(contents / name)
        contents.rename(before / _COMING_SIGNED_OUT)
    try:
        _swap(before)
    except Trouble as error:
        shutil.rmtree(before)
        raise BackupError(f"Nothing was changed. {error}") from error
    return before


def undo() -> tuple[Path, Path]:
    """Put back what the last restore replaced; returns where that lay, and where what was there now is kept.

    Raises BackupError, and then nothing has changed.
    """
    go_on()
    set_aside = sorted(settings.DIALSIDE_FOLDER.glob(f"{_KEPT}*"))
    if not set_aside:
        raise BackupError(f"No restore to take back: nothing named {_KEPT}... lies in {settings.DIALSIDE_FOLDER}.")
    last = set_aside[-1]
    if not (last / own_database().laid_aside).exists():
        raise BackupError(f"{last} holds no database. There was none before the restore.")
    before = _kept_now()
    (last / "files").mkdir(exist_ok=True)
    last.rename(before / _COMING)
    try:
        _swap(before)
    except Trouble as error:
        (before / _COMING).rename(last)
        shutil.rmtree(before)
        raise BackupError(f"Nothing was changed. {error}") from error
    return last, before


def go_on() -> None:
    """Finish what was cut off while it was put back, by a power cut or a kill. Raises BackupError."""
    for place in settings.DIALSIDE_FOLDER.glob(f"{_KEPT}*"):
        if not any(place.iterdir()):
            place.rmdir()
    try:
        for before in cut_off_ones():
            _swap(before)
    except Trouble as error:
        raise BackupError(f"A restore that was cut off could not be finished. {error} It lies in {before}.") from error


def cut_off_ones() -> list[Path]:
    """Where restores that were cut off keep what was there; `go_on` finishes them."""
    return sorted(place.parent for place in settings.DIALSIDE_FOLDER.glob(f"{_KEPT}*/{_COMING}*"))


def _kept_now():
    """A fresh folder for what is there now."""
    before = settings.DIALSIDE_FOLDER / f"{_KEPT}{datetime.now(UTC):%Y%m%d-%H%M%S-%f}"
    before.mkdir(mode=0o700)
    return before


def _swap(before: Path) -> None:
    """Put what comes in in the place of what is there, which is kept; each step may have been done before a cut."""
    coming = next(before.glob(f"{_COMING}*"))
    database, files = own_database(), Path(settings.MEDIA_ROOT)
    for name in (database.name, database.laid_aside):
        if (coming / name).exists():
            database.take_over(coming / name, before, sign_out=coming.name == _COMING_SIGNED_OUT)
            (coming / name).unlink(missing_ok=True)
    if (coming / "files").exists():
        if files.exists() and not (before / "files").exists():
            shutil.move(files, before / "files")
        shutil.move(coming / "files", files)
    shutil.rmtree(coming)


def _refuse_newer(copy, path):
    """Raise BackupError for what a newer program wrote: this one could not open it."""
    applied = own_database().applied(copy)
    unknown = of_no_program(applied, MigrationLoader(None, ignore_no_migrations=True).disk_migrations)
    if unknown:
        raise BackupError(
            f"{path} was made by a newer Dialside ({', '.join(unknown[:3])}). Update the program, then restore it. "
            "Nothing was changed."
        )
