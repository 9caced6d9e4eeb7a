"""`manage.py restore FILE`: put a backup in the place of what is there, which is kept."""

from typing import Any

from django.core.management import call_command
from django.core.management.base import BaseCommand, CommandError
from django.db import connections

from workshop.safekeeping import backup
from workshop.serving import serving_lock


class Command(BaseCommand):
    help = "Restores a backup; the state before is kept beside it."
    requires_system_checks = []

    def add_arguments(self, parser):
        parser.add_argument("file")

    def handle(self, *, file: str, **options: Any) -> None:
        lock = serving_lock.take()
        if lock is None:
            raise CommandError("Dialside is running; stop it with Ctrl-C first.")
        try:
            connections.close_all()
            before = backup.restore(file)
            call_command("migrate", interactive=False, verbosity=0)
        except backup.BackupError as error:
            raise CommandError(str(error)) from error
        finally:
            lock.close()
        self.stdout.write(f"Restored from {file}. What was there before is in {before}.")
