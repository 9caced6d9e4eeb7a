"""The folder on the disk: what was written is there before it counts, and only the workshop's user reads it."""

import os
import stat
from pathlib import Path


def sync(path: Path) -> None:
    """Have a file and its name in its folder on the disk."""
    for place in (path, path.parent):
        opened = os.open(place, os.O_RDONLY)
        try:
            os.fsync(opened)
        finally:
            os.close(opened)


def tighten(folder: Path) -> int:
    """Take from everybody else what they may do in the folder; returns at how many places that was needed.

    What belongs to another user is left as it is.
    """
    tightened = 0
    for place in (folder, *folder.rglob("*")):
        mode = stat.S_IMODE(place.lstat().st_mode)
        if mode & 0o077 and not place.is_symlink():
            try:
                place.chmod(mode & 0o700)
            except PermissionError:
                continue
            tightened += 1
    return tightened
