"""`manage.py export`: everything as open files in one ZIP, also while the workshop runs."""

import os
from pathlib import Path
from typing import Any

from django.conf import settings
from django.core.management.base import BaseCommand, CommandError

from workshop.accounts import access_log
from workshop.outside_errors import sentence_for
from workshop.safekeeping import export


class Command(BaseCommand):
    help = "Writes everything as CSV, JSON and files into one ZIP."

    def add_arguments(self, parser):
        parser.add_argument("file", nargs="?", help="where to write it; data/workshop/exports/ by default")

    def handle(self, *, file: str | None, **options: Any) -> None:
        path = Path(file) if file else settings.DIALSIDE_FOLDER / "exports" / export.file_name()
        part = path.with_name(f"{path.name}.part")
        try:
            path.parent.mkdir(parents=True, exist_ok=True)
            with open(part, "wb") as target:
                counts = export.write_export(target)
            os.replace(part, path)
            access_log.note(access_log.Kind.EXPORTED)
        except OSError as error:
            part.unlink(missing_ok=True)
            reason = sentence_for(error) or f"{error.strerror}: {error.filename}."
            raise CommandError(f"The export was not written. {reason}") from error
        size = path.stat().st_size / 1e6
        self.stdout.write(f"{path} holds {sum(counts.values())} records of {len(counts)} tables, {size:.1f} MB.")
