"""That no backup could be made, and since when: kept until one is made, for pages and `make doctor` to tell.

It is kept in a small file, so that another process finds it, and in this process for when the disk takes no file.
"""

import json
from dataclasses import asdict, dataclass
from datetime import UTC, datetime

from django.conf import settings


@dataclass(frozen=True, slots=True)
class Failure:
    """`since` is when the first of the attempts failed (ISO, UTC), `reason` what stopped the last one."""

    since: str
    reason: str

    @property
    def began(self):
        return datetime.fromisoformat(self.since)


_here: dict[str, Failure] = {}


def _file():
    return settings.DIALSIDE_FOLDER / "backups" / "last-failure.json"


def note(reason):
    """Write down that an attempt failed; the time of the first one stays."""
    before = current()
    failure = Failure(before.since if before else datetime.now(UTC).isoformat(), reason)
    _here[str(_file())] = failure
    try:
        _file().parent.mkdir(parents=True, exist_ok=True)
        _file().write_text(json.dumps(asdict(failure)), encoding="utf-8")
    except OSError:
        pass  # this process still knows it


def clear():
    """Forget the failure, once a backup is made."""
    _here.pop(str(_file()), None)
    _file().unlink(missing_ok=True)


def current():
    """The Failure since the last backup; None where there is none."""
    try:
        return Failure(**json.loads(_file().read_text(encoding="utf-8")))
    except (OSError, ValueError, TypeError):
        return _here.get(str(_file()))


def for_pages(request) -> dict:
    """Tell every template of a signed-in person that backups fail."""
    user = getattr(request, "user", None)
    return {"backup_failure": current() if user and user.is_authenticated else None}
