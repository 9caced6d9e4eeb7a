"""What make doctor looks at: the installation, the data folder, the database, the files, the backups, the clock."""

import importlib.metadata
import os
import re
import shutil
import sqlite3
import sys
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from pathlib import Path

from django.apps import apps
from django.conf import settings
from django.db import connection
from django.db.models import DateTimeField, Max

from workshop.outside_errors import sentence_for
from workshop.safekeeping import backup, backup_failure, orphan_files, restoring, safe_migrate, sealing

SCARCE_MB = 500
"""Less free space than this is told."""
AHEAD = timedelta(minutes=10)
"""An entry this far in the future means that the clock was set back."""


@dataclass(frozen=True, slots=True)
class Finding:
    """`state` is "well", "mind" or "mend"; `told` says what is and, unless well, what to do."""

    state: str
    what: str
    says: str


def examine():
    """Every Finding, one examination after the other; one that fails is itself a finding."""
    is_folder_well = True
    for what, look in EXAMINATIONS:
        try:
            answer = look()
        except Exception as error:  # whatever it is, the other examinations go on
            answer = ("mend", sentence_for(error) or f"This could not be checked: {error}.")
            if not is_folder_well:
                answer = ("mind", "Not checked: put the data folder right first.")
        is_folder_well = is_folder_well and (look is not _folder or answer[0] != "mend")
        yield Finding(answer[0], what, answer[1])


def _python():
    if sys.version_info[:2] != (3, 11):
        return "mend", f"Python {sys.version.split()[0]} runs; 3.11 is needed. Install it and delete .venv."
    return "well", f"Python {sys.version.split()[0]}"


def _packages():
    pins = (settings.BASE_DIR / "constraints.txt").read_text()
    wrong, count = [], 0
    for name, wanted in re.findall(r"^([A-Za-z0-9_.-]+)==(\S+)", pins, re.MULTILINE):
        try:
            installed = importlib.metadata.version(name)
        except importlib.metadata.PackageNotFoundError:
            continue
        count += 1
        if installed != wanted:
            wrong.append(f"{name} {installed} instead of {wanted}")
    if wrong:
        return "mend", f"Versions differ from the pinned ones: {', '.join(wrong)}. Delete .venv and start again."
    return "well", f"{count} packages as pinned"


def _papers():
    from parts.tools.papers.pdf import tells_apart

    if not tells_apart("時", "針", "ja"):
        return (
            "mind",
            "Papers can be made, but not in Japanese: no font for it. Install fonts-vlgothic, then restart Dialside.",
        )
    return "well", "a page can be made, in Japanese too"


def _folder():
    place = settings.DIALSIDE_FOLDER
    trial = place / f".doctor-{os.getpid()}"
    try:
        trial.write_text("x")
        trial.unlink()
    except OSError as error:
        return "mend", f"{place}: {sentence_for(error) or f'{error.strerror}.'}"
    if restoring.cut_off_ones():
        return "mind", "A restore was cut off. Start Dialside: it finishes it."
    free = shutil.disk_usage(place).free / 1e6
    if free < SCARCE_MB:
        return "mind", f"{place} has {free:.0f} MB left; free some space, at least {SCARCE_MB} MB."
    return "well", f"{place} is writable; {free / 1000:.1f} GB left"


def _database():
    if connection.vendor != "sqlite":
        with connection.cursor() as cursor:
            cursor.execute("SELECT version()")
            return "well", " ".join(cursor.fetchone()[0].split()[:2])
    path = Path(connection.settings_dict["NAME"])
    if not path.exists():
        return "mind", "No database yet; make run creates it."
    if not path.is_file():
        return "mend", f"{path} is not a file. Move it away. {safe_migrate.way_back()}"
    with sqlite3.connect(f"file:{path}?mode=ro", uri=True) as opened:
        whole = opened.execute("PRAGMA integrity_check").fetchone()[0]
        loose = opened.execute("PRAGMA foreign_key_check").fetchall()
    if whole != "ok":
        return "mend", f"The database is damaged ({whole}). {safe_migrate.way_back()}"
    if loose:
        return "mend", f"{len(loose)} rows refer to rows that are gone. {safe_migrate.way_back()}"
    return "well", f"{path} is intact, {path.stat().st_size / 1e6:.1f} MB"


def _version():
    waiting, unknown, begun = safe_migrate.migrations()
    if unknown:
        return "mend", f"The database is newer than the program ({unknown[0]}). Update the program."
    if waiting and begun:
        return "mind", f"{len(waiting)} database changes are due; the next start makes them, after a copy."
    return "well", "the database matches the program"


def _files():
    if not safe_migrate.migrations()[2]:
        return "well", "no records yet"
    gone, loose = orphan_files.missing_files(), orphan_files.orphans()
    if gone:
        return (
            "mend",
            f"{len(gone)} files are missing, the first: {gone[0][0]} of a {gone[0][1]}. {safe_migrate.way_back()}",
        )
    if loose:
        return "mind", f"{len(loose)} files belong to no record; they are moved aside within a day."
    return "well", "every record has its file, and every file its record"


def _backups():
    if failure := backup_failure.current():
        return "mend", f"No backup could be made since {failure.began:%Y-%m-%d %H:%M} (UTC): {failure.reason}"
    age = backup.age_of_last()
    if age is None:
        return "mind", "No backup yet. Run make backup, or leave Dialside running."
    if age > backup.OLD:
        return "mind", f"The last backup is {age.days} days old. Run make backup, and find out why none was made."
    if ahead := backup.named_ahead():
        return (
            "mind",
            f"{len(ahead)} backups are named for a time still to come: the clock was set back. {ahead[-1].name}",
        )
    last = backup.backups()[-1]
    if sealing.is_sealed(last) and not settings.DIALSIDE_BACKUP_PASSPHRASE_FILE:
        return "mind", f"{last.name} is encrypted; set DIALSIDE_BACKUP_PASSPHRASE_FILE to have it opened and checked."
    contents = backup.check_backup(last)
    return "well", f"{last.name} holds {sum(contents['rows'].values())} rows and can be opened"


def _clock():
    latest = [
        newest
        for model in (apps.get_models() if safe_migrate.migrations()[2] else ())
        for field in (field for field in model._meta.fields if isinstance(field, DateTimeField) and field.auto_now_add)
        if (newest := model._base_manager.aggregate(latest=Max(field.name))["latest"])
    ]
    now = datetime.now(UTC)
    if latest and max(latest) - now > AHEAD:
        shows = f"The newest entry is from {max(latest):%Y-%m-%d %H:%M}, the clock shows {now:%Y-%m-%d %H:%M} (UTC)."
        return "mend", f"{shows} Set this machine's clock."
    return "well", f"{now:%Y-%m-%d %H:%M} (UTC), zone {settings.TIME_ZONE}"


EXAMINATIONS = (
    ("Python", _python),
    ("Packages", _packages),
    ("Papers as PDF", _papers),
    ("Data folder", _folder),
    ("Database", _database),
    ("Version of the database", _version),
    ("Files", _files),
    ("Backups", _backups),
    ("Clock", _clock),
)
