"""The workshop's database as one file of a backup: an SQLite file, or a dump of a PostgreSQL database."""

from __future__ import annotations

from pathlib import Path
from typing import Protocol

from django.conf import settings

from workshop.safekeeping.databases.file import SqliteFile
from workshop.safekeeping.databases.server import PostgresqlServer


class Database(Protocol):
    """What a backup needs of a database. Each raises `Trouble` where it cannot be done, and says what to do."""

    name: str
    """The name of its copy in a backup."""
    words: str
    """What a workshop on it is."""

    @property
    def laid_aside(self) -> str:
        """The name of what a restore lays aside."""
        ...

    def copy(self, to: Path) -> None:
        """Write a consistent copy while others write."""
        ...

    def rows(self, copy: Path) -> dict[str, int]:
        """The rows of every table of a copy, read from it."""
        ...

    def applied(self, copy: Path) -> list[tuple[str, str]]:
        """The changes of the tables that a copy has, as (room, name)."""
        ...

    def take_over(self, copy: Path, aside: Path, *, sign_out: bool) -> None:
        """Put a copy in the place of what is there, which is laid aside in a folder; `sign_out` revives no session."""
        ...


def own_database() -> Database:
    """The workshop's own."""
    of_file = settings.DATABASES["default"]["ENGINE"].endswith("sqlite3")
    return SqliteFile() if of_file else PostgresqlServer()


NAMES = (SqliteFile.name, PostgresqlServer.name)
