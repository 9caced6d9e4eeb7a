"""The daily backup while the workshop is served."""

import logging
import threading
from datetime import timedelta

from workshop import backup

EVERY = timedelta(days=1)
_LOOK_S = 600


def run_when_due():
    """Make a backup where the last is a day old or there is none; a failure is logged, the next look tries again."""
    age = backup.age_of_last()
    if age is not None and age < EVERY:
        return None
    try:
        return backup.make_backup()
    except backup.BackupError as error:
        logging.getLogger("workshop.backup").error("%s", error)
        return None


def start():
    """Look every ten minutes, in a thread that ends with the server; returns what stops it."""
    stop = threading.Event()

    def look():
        while not stop.wait(_LOOK_S):
            run_when_due()

    threading.Thread(target=look, name="daily backup", daemon=True).start()
    return stop
