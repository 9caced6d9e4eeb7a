"""The site from what is chosen to the folder: looked at, checked, written."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, NamedTuple

from django.conf import settings
from django.utils import timezone

from jobs.models import Event, Window, WindowEntry, WindowHolder
from jobs.window import holders
from jobs.window.check.checking import Check
from jobs.window.pages import File, files_of, photos_of
from jobs.window.site import Site, path_of
from jobs.window.writing import Written, changes, last_written, listed, write

if TYPE_CHECKING:
    from jobs.models import Customer


class NotShown(ValueError):
    """Why nothing was written, and what to do."""


class Ready(NamedTuple):
    """The site as it would be written now: what hinders it in words, what is personal, and what would change."""

    site: Site
    files: dict[str, File]
    check: Check
    hindrance: str
    changes: Written


def folder() -> Path:
    """Where the site lies once it is written."""
    return settings.DIALSIDE_FOLDER / "window"


def ready() -> Ready:
    """The whole site, made and checked; nothing is written. With no entry left it has no file."""
    site = Site()
    files = _made(files_of(site)) | photos_of(site) if site.entries else {}
    return Ready(site, files, Check(site, files), _hindrance(site), changes(files, folder()))


def publish(to: Path | None = None) -> Written:
    """Write the site into its folder, and into another one where that is named. Raises NotShown, Busy, OSError."""
    made = ready()
    if made.hindrance:
        raise NotShown(made.hindrance)
    if stops := made.check.stops:
        where = "; ".join(
            f"“{stop.hit.words}” ({stop.hit.what}) in {stop.entry.code if stop.entry else 'the site'}, {stop.place}"
            for stop in stops[:5]
        )
        more = f"; and {len(stops) - 5} more" if len(stops) > 5 else ""
        raise NotShown(
            f"Nothing was written: {where}{more}. Change those words, or clear them on the show window's page."
        )
    done = write(made.files, folder())
    if to:
        write(made.files, to)
    window = made.site.window
    window.written = timezone.now()
    window.save(update_fields=["written"] if window.pk else None)
    return done


def still_written(*, of: Customer | None = None) -> list[WindowEntry | WindowHolder]:
    """The entries of which the folder holds more than it should: taken out, or their customer erased, since then."""
    there, window = listed(folder()), Window.current()
    since = window.written or last_written(folder())
    entries = WindowEntry.objects.filter(**({"job__customer": of} if of else {})).select_related("job")
    lying = [entry for entry in entries if path_of(entry) in there]
    erased = Event.objects.filter(kind=Event.Kind.ERASED, at__gt=since) if since else Event.objects.none()
    jobs = set(erased.values_list("job", flat=True)) if lying else set()
    out = [entry for entry in lying if not entry.shown or entry.job_id in jobs]
    gone = () if of else WindowHolder.objects.filter(shown=False)
    return [*out, *(holder for holder in gone if holders.path_of(holder) in there)]


def _hindrance(site):
    if not site.entries:
        return "" if listed(folder()) else "Nothing is in the window. Choose a past swap first."
    if not site.name:
        return "The site has no name. Give it one under About the site, or fill in your letterhead."
    return ""


def _made(files):
    """The files with their pages made once: what is checked is what is written."""
    return {path: file if file.is_ours else _once(file) for path, file in files.items()}


def _once(file):
    content = file.make()
    return file._replace(make=lambda: content)
