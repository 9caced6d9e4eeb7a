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


def restore(path: Path | str) -> Path:
    """Put a backup in the place of what is there now, which is kept beside it; returns where it is kept.

    The backup is unpacked and checked in a fresh folder first. Nobody is signed in afterwards. Raises BackupError, and
    then nothing has changed.
    """
    if not Path(path).is_file():
        raise BackupError(f"No file {path}. The backups are in {folder()}.")
    with workplace() as fresh:
        check_backup(path, into=fresh)
        copy = fresh / own_database().name
        _refuse_newer(copy, path)
        return _swap(copy, fresh / "files", sign_out=True)


def undo() -> tuple[Path, Path]:
    """Put back what the last restore replaced; returns where that lay, and where what was there now is kept.

    Raises BackupError, and then nothing has changed.
    """
    set_aside = sorted(settings.DIALSIDE_FOLDER.glob(f"{_KEPT}*"))
    if not set_aside:
        raise BackupError(f"No restore to take back: nothing named {_KEPT}... lies in {settings.DIALSIDE_FOLDER}.")
    last = set_aside[-1]
    database = last / own_database().laid_aside
    if not database.exists():
        raise BackupError(f"{last} holds no database. There was none before the restore.")
    before = _swap(database, last / Path(settings.MEDIA_ROOT).name, sign_out=False)
    shutil.rmtree(last)
    return last, before


def _swap(copy: Path, files: Path, *, sign_out: bool) -> Path:
    """Put these in the place of what is there, which is kept; returns where."""
    our_files = Path(settings.MEDIA_ROOT)
    before = settings.DIALSIDE_FOLDER / f"{_KEPT}{datetime.now(UTC):%Y%m%d-%H%M%S-%f}"
    before.mkdir(mode=0o700)
    try:
        own_database().take_over(copy, before, sign_out=sign_out)
    except Trouble as error:
        shutil.rmtree(before)
        raise BackupError(f"Nothing was changed. {error}") from error
    if our_files.exists():
        shutil.move(our_files, before / our_files.name)
    if files.exists():
        shutil.move(files, our_files)
    return before


def _refuse_newer(copy, path):
    """Raise BackupError for what a newer program wrote: this one could not open it."""
    applied = own_database().applied(copy)
    unknown = of_no_program(applied, MigrationLoader(None, ignore_no_migrations=True).disk_migrations)
    if unknown:
        raise BackupError(
            f"{path} was made by a newer Dialside ({', '.join(unknown[:3])}). Update the program, then restore it. "
            "Nothing was changed."
        )
