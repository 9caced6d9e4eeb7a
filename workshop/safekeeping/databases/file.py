"""An SQLite file, copied by SQLite's own backup and read back table by table."""

import shutil
import sqlite3
from contextlib import closing
from pathlib import Path

from django.conf import settings

from workshop.outside_errors import sentence_for
from workshop.safekeeping.databases.sessions import SESSION_TABLES
from workshop.safekeeping.databases.trouble import Trouble


class SqliteFile:
    """The database of a workshop that is one file."""

    name = "database.sqlite3"
    words = "one file"

    @property
    def path(self) -> Path:
        return Path(settings.DATABASES["default"]["NAME"])

    @property
    def laid_aside(self) -> str:
        return self.path.name

    def copy(self, to: Path) -> None:
        try:
            with closing(sqlite3.connect(self.path)) as source, closing(sqlite3.connect(to)) as target:
                source.backup(target)
        except sqlite3.Error as error:
            reason = sentence_for(error) or f"The database could not be copied ({error}). Run make doctor."
            raise Trouble(reason) from error

    def rows(self, copy: Path) -> dict[str, int]:
        try:
            with closing(sqlite3.connect(f"file:{copy}?mode=ro", uri=True)) as opened:
                if (verdict := opened.execute("PRAGMA integrity_check").fetchone()[0]) != "ok":
                    raise Trouble(f"The database is damaged: {verdict}.")
                named = "SELECT name FROM sqlite_master WHERE type = 'table' AND name NOT LIKE 'sqlite_%'"
                tables = [name for (name,) in opened.execute(named).fetchall()]
                return {name: opened.execute(f'SELECT count(*) FROM "{name}"').fetchone()[0] for name in tables}
        except sqlite3.DatabaseError as error:
            raise Trouble(f"The database is damaged: {error}.") from error

    def applied(self, copy: Path) -> list[tuple[str, str]]:
        with closing(sqlite3.connect(copy)) as opened:
            return opened.execute("SELECT app, name FROM django_migrations").fetchall()

    def take_over(self, copy: Path, aside: Path, *, sign_out: bool) -> None:
        if sign_out:
            _sign_out(copy)
        if not (aside / self.laid_aside).exists():
            for old in (*self.path.parent.glob(f"{self.path.name}-*"), self.path):
                if old.exists():
                    shutil.move(old, aside / old.name)
        for part in (*copy.parent.glob(f"{copy.name}-*"), copy):
            shutil.move(part, self.path.with_name(part.name.replace(copy.name, self.path.name, 1)))


def _sign_out(copy):
    """Delete the sessions."""
    try:
        with closing(sqlite3.connect(copy)) as opened:
            named = {name for (name,) in opened.execute("SELECT name FROM sqlite_master WHERE type = 'table'")}
            for table in named.intersection(SESSION_TABLES):
                opened.execute(f"DELETE FROM {table}")
            opened.commit()
    except sqlite3.Error as error:
        raise Trouble(f"The sessions could not be taken out of the backup: {error}.") from error
