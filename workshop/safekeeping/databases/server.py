"""A PostgreSQL database, dumped and put back by the server's own tools.

A dump is counted from what it holds, without a server: so a backup is checked where it lies.
"""

import os
import re
import shutil
import subprocess
from collections import Counter
from collections.abc import Iterable, Iterator
from contextlib import contextmanager
from pathlib import Path

from django.conf import settings

from workshop.safekeeping.databases.sessions import SESSION_TABLES
from workshop.safekeeping.databases.trouble import Trouble

_TABLE = re.compile(rb'COPY public\."?(\w+)"? \(')
_SESSIONS = re.compile(rf"TABLE DATA public ({'|'.join(SESSION_TABLES)}) ")

_EMPTY = """DO $$ DECLARE name text; BEGIN
    FOR name IN SELECT tablename FROM pg_tables WHERE schemaname = 'public' LOOP
        EXECUTE format('DROP TABLE public.%I CASCADE', name);
    END LOOP; END $$"""


class PostgresqlServer:
    """The database of a workshop on a server."""

    name = "database.dump"
    words = "on PostgreSQL"
    laid_aside = name

    def copy(self, to: Path) -> None:
        self._call("pg_dump", "--format=custom", "--compress=1", "--no-owner", "--no-privileges", f"--file={to}")

    def rows(self, copy: Path) -> dict[str, int]:
        return dict(Counter(table for table, _ in _lines(copy)))

    def applied(self, copy: Path) -> list[tuple[str, str]]:
        cells = (line.split("\t") for table, line in _lines(copy, "--table=django_migrations"))
        return [(app, name) for _, app, name, *_ in cells]

    def take_over(self, copy: Path, aside: Path, *, sign_out: bool) -> None:
        """All of it or nothing: the server takes it in one transaction. Tables of later programs go as well."""
        if not (aside / self.laid_aside).exists():
            self.copy(aside / "part")
            (aside / "part").rename(aside / self.laid_aside)
        listed, contents, script = _run("pg_restore", "--list", str(copy)), *map(copy.with_name, ("contents", "script"))
        lines = (line for line in listed.splitlines() if not (sign_out and _SESSIONS.search(line)))
        contents.write_text("\n".join(lines))
        how = ("--no-owner", "--no-privileges", "--no-comments", f"--use-list={contents}", f"--file={script}")
        _run("pg_restore", *how, str(copy))
        once = ("--no-psqlrc", "--quiet", "--single-transaction", "--set=ON_ERROR_STOP=1", "--output=/dev/null")
        self._call("psql", *once, "--command", _EMPTY, "--file", str(script))

    @property
    def _given(self):
        return settings.DATABASES["default"]

    def _call(self, tool, *words):
        """Run a tool on the database; its address and password are not seen in the list of processes."""
        names = {"PGHOST": "HOST", "PGPORT": "PORT", "PGUSER": "USER", "PGPASSWORD": "PASSWORD", "PGDATABASE": "NAME"}
        given = {name: str(self._given.get(key) or "") for name, key in names.items()}
        mode = self._given.get("OPTIONS", {}).get("sslmode")
        given |= {"PGSSLMODE": mode} if mode else {}
        _run(tool, *words, **{name: value for name, value in given.items() if value})


def _lines(copy: Path, *which: str) -> Iterator[tuple[str, str]]:
    """Every row of a dump, as (table, its cells with tabs between)."""
    with _reading("pg_restore", "--data-only", "--file=-", *which, str(copy)) as lines:
        table = None
        for line in lines:
            if table is None:
                start = _TABLE.match(line)
                table = start and start[1].decode()
            elif line == b"\\.\n":
                table = None
            else:
                yield table, line.decode().rstrip("\n")


@contextmanager
def _reading(tool: str, *words: str) -> Iterator[Iterable[bytes]]:
    """The lines that a tool writes, one after the other: a dump may be larger than the memory."""
    with _started(tool, *words) as process:
        yield process.stdout
        said = process.stderr.read().decode()
        if process.wait():
            raise Trouble(f"The dump is damaged: {_short(said)}.")


def _started(tool, *words):
    return subprocess.Popen([_path(tool), *words], stdout=subprocess.PIPE, stderr=subprocess.PIPE)


def _run(tool: str, *words: str, **environment: str) -> str:
    call = [_path(tool), *words]
    done = subprocess.run(call, env=os.environ | environment, capture_output=True, text=True, check=False)
    if done.returncode:
        raise Trouble(f"{tool} says: {_short(done.stderr)}.")
    return done.stdout


def _path(tool):
    path = shutil.which(tool)
    if path is None:
        raise Trouble(f"{tool} is not installed here. On Debian: sudo apt install postgresql-client")
    return path


def _short(said):
    """The first line that tells of an error, without the tool's name."""
    lines = [re.split("error: |ERROR: +|FATAL: +", line)[-1] for line in said.splitlines() if "rror: " in line.lower()]
    return (lines or said.splitlines() or ["no reason given"])[0].rstrip(".")[:300]
