"""The daily backup while the workshop is served."""

import logging
import threading
from datetime import timedelta

from workshop.safekeeping import backup, orphan_files

EVERY = timedelta(days=1)
_LOOK_S = 600


def run_when_due():
    """Make a backup where the last is a day old, of the future or there is none, then sweep the folder of files.

    A failure is logged, the next look tries again. A backup of the future was made before the clock was set back.
    """
    age = backup.age_of_last()
    if age is not None and timedelta(0) <= age < EVERY:
        return None
    try:
        made = backup.make_backup()
        orphan_files.sweep()
        return made
    except (backup.BackupError, OSError) as error:
        logging.getLogger("workshop.safekeeping.backup").error("%s", error)
        return None


def start():
    """Look every ten minutes, in a thread that ends with the server; returns what stops it."""
    stop = threading.Event()

    def look():
        while not stop.wait(_LOOK_S):
            run_when_due()

    threading.Thread(target=look, name="daily backup", daemon=True).start()
    return stop
