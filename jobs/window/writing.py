"""Writing the site into a folder: only what changed, each file whole and on the disk before it has its name.

A list of the site's files lies with them. What stands on it and is no longer wanted is taken away; whatever else lies
in the folder, such as that of a git repository, is left alone.
"""

from __future__ import annotations

import datetime as dt
import fcntl
import os
import zipfile
from contextlib import contextmanager
from typing import IO, TYPE_CHECKING, NamedTuple

from parts.tools.disk import sync

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping
    from pathlib import Path

    from jobs.window.pages import File

LIST = "files.txt"
"""The list of the site's files, one path a line."""
_THE_SAME_DAY = (1980, 1, 1, 0, 0, 0)


class Busy(RuntimeError):
    """The folder is being written by somebody else."""


class Written(NamedTuple):
    """Paths that are new, changed and taken away."""

    new: list[str]
    changed: list[str]
    gone: list[str]

    @property
    def total(self) -> int:
        return sum(map(len, self))


def changes(files: Mapping[str, File], folder: Path) -> Written:
    """What writing would do."""
    new, changed = [], []
    for path, file in files.items():
        there = folder / path
        if not there.is_file():
            new.append(path)
        elif not file.is_fixed and there.read_bytes() != file.make():
            changed.append(path)
    return Written(new, changed, sorted(listed(folder) - files.keys()))


def write(files: Mapping[str, File], folder: Path) -> Written:
    """Write what changed, what pages need before the pages; raises Busy, or OSError where the disk refuses."""
    folder.mkdir(mode=0o755, parents=True, exist_ok=True)
    with _alone(folder):
        for path in listed(folder):
            _part_of(folder / path).unlink(missing_ok=True)
        done = changes(files, folder)
        if done.total:
            _put(folder, LIST, _as_list(files.keys() | done.gone))
            for path in sorted((*done.new, *done.changed), key=lambda path: (path.endswith((".html", ".xml")), path)):
                _put(folder, path, files[path].make())
            for path in done.gone:
                _take_away(folder, path)
            _put(folder, LIST, _as_list(files.keys()))
    return done


def listed(folder: Path) -> set[str]:
    """The files of the site that lie in the folder."""
    there = folder / LIST
    lines = there.read_text("utf-8").splitlines() if there.is_file() else ()
    return {line for line in lines if line and not line.startswith(("/", "..")) and "/../" not in line}


def last_written(folder: Path) -> dt.datetime | None:
    """When something of the site was changed last; None before it is written for the first time."""
    there = folder / LIST
    return dt.datetime.fromtimestamp(there.stat().st_mtime, dt.UTC) if there.is_file() else None


def write_zip(folder: Path, target: IO[bytes]) -> None:
    """The site as it was written last as one ZIP, the same bytes for the same files."""
    with zipfile.ZipFile(target, "w") as archive:
        for path in sorted(listed(folder)):
            if (folder / path).is_file():
                is_packed = path.endswith((".jpg", ".woff2"))
                entry = zipfile.ZipInfo(path, _THE_SAME_DAY)
                entry.compress_type = zipfile.ZIP_STORED if is_packed else zipfile.ZIP_DEFLATED
                entry.external_attr = 0o644 << 16
                archive.writestr(entry, (folder / path).read_bytes())


def _as_list(paths):
    return "".join(f"{path}\n" for path in sorted(paths)).encode()


def _put(folder: Path, path: str, content: bytes) -> None:
    target = folder / path
    target.parent.mkdir(mode=0o755, parents=True, exist_ok=True)
    part = _part_of(target)
    try:
        part.write_bytes(content)
        sync(part)
        part.replace(target)
        sync(target)
    finally:
        part.unlink(missing_ok=True)


def _part_of(target: Path) -> Path:
    """Where a file lies until it is whole."""
    return target.with_name(f".{target.name}.part")


def _take_away(folder: Path, path: str) -> None:
    (folder / path).unlink(missing_ok=True)
    for above in (folder / path).parents:
        if above == folder or any(above.iterdir()):
            break
        above.rmdir()


@contextmanager
def _alone(folder: Path) -> Iterator[None]:
    """Hold the folder against another writing at the same time."""
    opened = os.open(folder, os.O_RDONLY)
    try:
        fcntl.flock(opened, fcntl.LOCK_EX | fcntl.LOCK_NB)
        yield
    except BlockingIOError as error:
        raise Busy("The site is being written right now. Wait a moment, then try again.") from error
    finally:
        os.close(opened)
