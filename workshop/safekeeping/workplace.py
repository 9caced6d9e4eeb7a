"""Where backups and restores work: a private folder of the workshop's own, cleared of what a kill left behind.

Each piece of work holds a lock on its folder, which the system takes back however the process ends.
"""

import fcntl
import os
import shutil
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from django.conf import settings


def _home():
    return settings.DIALSIDE_FOLDER / "in-work"


@contextmanager
def workplace():
    """A fresh folder that only the workshop's own user can read, gone afterwards; what others left is swept first."""
    _home().mkdir(mode=0o700, parents=True, exist_ok=True)
    sweep()
    place = Path(tempfile.mkdtemp(dir=_home()))
    held = os.open(place, os.O_RDONLY)
    try:
        fcntl.flock(held, fcntl.LOCK_EX)
        yield place
    finally:
        shutil.rmtree(place, ignore_errors=True)
        os.close(held)


@contextmanager
def turn(name: str) -> Iterator[bool]:
    """Whether this process may do a piece of work now: False while another of the same workshop is at it."""
    _home().mkdir(mode=0o700, parents=True, exist_ok=True)
    with (_home().parent / f"{name}.lock").open("w") as file:
        try:
            fcntl.flock(file, fcntl.LOCK_EX | fcntl.LOCK_NB)
        except BlockingIOError:
            yield False
        else:
            yield True


def sweep() -> int:
    """Delete what work left that was killed; returns how many pieces."""
    swept = 0
    for left in (*_home().glob("*"), *(settings.DIALSIDE_FOLDER / "backups").glob("tmp*")):
        opened = os.open(left, os.O_RDONLY)
        try:
            fcntl.flock(opened, fcntl.LOCK_EX | fcntl.LOCK_NB)
        except BlockingIOError:
            continue
        else:
            shutil.rmtree(left, ignore_errors=True)
            swept += 1
        finally:
            os.close(opened)
    return swept
