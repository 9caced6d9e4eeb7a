"""The daily backup while the workshop is served."""

import logging
import threading
from datetime import timedelta

from workshop.outside_errors import sentence_for
from workshop.safekeeping import backup, backup_failure, orphan_files, workplace

EVERY = timedelta(days=1)
_LOOK_S = 600
_LOG = logging.getLogger("workshop.safekeeping.backup")


def run_when_due():
    """Make a backup where the last is a day old, of the future or there is none, then sweep the folder of files.

    Whatever goes wrong is logged and told on every page until a backup is made; the next look tries again. A backup of
    the future was made before the clock was set back. Of several processes one makes it.
    """
    with workplace.turn("daily-backup") as mine:
        return _run_when_due() if mine else None


def _run_when_due():
    age = backup.age_of_last()
    if age is not None and timedelta(0) <= age < EVERY:
        return None
    try:
        made = backup.make_backup()
    except Exception as error:  # whatever it is, tomorrow's backup must still be tried
        backup_failure.note(_reason(error))
        _LOG.error("%s", error, exc_info=not isinstance(error, backup.BackupError))
        return None
    try:
        orphan_files.sweep()
    except Exception as error:
        _LOG.error("The folder of files was not swept: %s", error, exc_info=True)
    return made


def _reason(error):
    if isinstance(error, backup.BackupError):
        return str(error)
    return sentence_for(error) or f"{type(error).__name__}; the details are in dialside.log."


def start():
    """Look every ten minutes, in a thread that ends with the server; returns what stops it."""
    stop = threading.Event()

    def look():
        while not stop.wait(_LOOK_S):
            try:
                run_when_due()
            except Exception:
                _LOG.exception("The daily backup could not be checked")

    threading.Thread(target=look, name="daily backup", daemon=True).start()
    return stop
