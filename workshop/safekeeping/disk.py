"""The folder on the disk: only the workshop's user reads it."""

import stat
from pathlib import Path


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
