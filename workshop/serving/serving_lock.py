"""Whether the workshop is being served: a lock that the operating system gives up with the process."""

import fcntl
from typing import TextIO

from django.conf import settings


def take(*, shared: bool = False) -> TextIO | None:
    """Hold the lock while the workshop is served; None where another process holds it already.

    Several processes may hold it `shared`, as long as none wants it alone.
    """
    file = (settings.DIALSIDE_FOLDER / "serving.lock").open("w")
    try:
        fcntl.flock(file, (fcntl.LOCK_SH if shared else fcntl.LOCK_EX) | fcntl.LOCK_NB)
    except OSError:
        file.close()
        return None
    return file
