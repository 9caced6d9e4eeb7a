"""The site from what is chosen to the folder: looked at, checked, written."""

from __future__ import annotations

from pathlib import Path
from typing import NamedTuple

from django.conf import settings

from jobs.window.checking import Check
from jobs.window.pages import File, files_of, photos_of
from jobs.window.site import Site
from jobs.window.writing import Written, changes, write


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
    """The whole site, made and checked; nothing is written."""
    site = Site()
    files = _made(files_of(site)) | photos_of(site)
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
    return done


def _hindrance(site):
    if not site.entries:
        return "Nothing is in the window. Choose a past swap first."
    if not site.name:
        return "The site has no name. Give it one under About the site, or fill in your letterhead."
    return ""


def _made(files):
    """The files with their pages made once: what is checked is what is written."""
    return {path: file if file.is_ours else _once(file) for path, file in files.items()}


def _once(file):
    content = file.make()
    return file._replace(make=lambda: content)
