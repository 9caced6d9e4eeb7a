"""`manage.py restore FILE` or `--undo`: put a backup in the place of what is there, or take that back."""

from typing import Any

from django.core.management import call_command
from django.core.management.base import BaseCommand, CommandError
from django.db import connections

from workshop.accounts import access_log
from workshop.safekeeping import restoring
from workshop.safekeeping.backup import BackupError
from workshop.serving import serving_lock


class Command(BaseCommand):
    help = "Restores a backup; the state before is kept beside it."
    requires_system_checks = []

    def add_arguments(self, parser):
        parser.add_argument("file", nargs="?", default="")
        parser.add_argument("--undo", action="store_true", help="put back what the last restore replaced")

    def handle(self, *, file: str, undo: bool, **options: Any) -> None:
        if bool(file) == undo:
            raise CommandError("Name the backup: make restore FILE=... Or take the last restore back: UNDO=1.")
        lock = serving_lock.take()
        if lock is None:
            raise CommandError("Dialside is running; stop it with Ctrl-C first.")
        try:
            connections.close_all()
            source, before = restoring.undo() if undo else (file, restoring.restore(file))
            call_command("migrate", interactive=False, verbosity=0)
            access_log.note(access_log.Kind.RESTORED, about="taken back" if undo else "")
        except BackupError as error:
            raise CommandError(str(error)) from error
        finally:
            lock.close()
        self.stdout.write(f"Restored from {source}. What was there before is in {before}.")
