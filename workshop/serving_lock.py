"""Whether the workshop is being served: a lock that the operating system gives up with the process."""

import fcntl

from django.conf import settings


def take():
    """Hold the lock while the workshop is served; None where another process holds it already."""
    file = (settings.DIALSIDE_FOLDER / "serving.lock").open("w")
    try:
        fcntl.flock(file, fcntl.LOCK_EX | fcntl.LOCK_NB)
    except OSError:
        file.close()
        return None
    return file
