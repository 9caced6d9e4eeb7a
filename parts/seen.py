"""Two windows on one record: whether it was changed after the page that is sent now was opened."""

from django.utils import timezone

SEEN = "seen"
"""The hidden field with the stamp of the record as the page showed it."""


def stamp(record):
    """Changes with every change of the record; empty for one that is not saved yet."""
    return record.updated.isoformat() if record.pk else ""


def overtaken(record, data):
    """What to say where a form's data come from a page older than the record's last change; empty where not."""
    if not record.pk or data.get(SEEN, stamp(record)) == stamp(record):
        return ""
    when = timezone.localtime(record.updated)
    return (
        f"This was changed in another window at {when:%H:%M} on {when.day} {when:%B}, after this page was opened. "
        "What you typed still stands here; save again to put it in place of that change."
    )
