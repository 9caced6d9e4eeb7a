"""What was written is on the disk before it counts."""

import os
from pathlib import Path


def sync(path: Path) -> None:
    """Have a file and its name in its folder on the disk."""
    for place in (path, path.parent):
        opened = os.open(place, os.O_RDONLY)
        try:
            os.fsync(opened)
        finally:
            os.close(opened)
