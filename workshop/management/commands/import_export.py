"""`manage.py import_export FILE`: read an export into an empty workshop."""

from typing import Any

from django.contrib.auth import get_user_model
from django.core.management import call_command
from django.core.management.base import BaseCommand, CommandError
from django.urls import reverse

from workshop.accounts import access_log
from workshop.accounts.links import new_link
from workshop.safekeeping.copying.importing import CannotImport, read_export
from workshop.serving import serving_lock


class Command(BaseCommand):
    help = "Reads an export into an empty workshop, row by row as it was."
    requires_system_checks = []

    def add_arguments(self, parser):
        parser.add_argument("file")

    def handle(self, *, file: str, **options: Any) -> None:
        lock = serving_lock.take()
        if lock is None:
            raise CommandError("Dialside is running; stop it with Ctrl-C first.")
        with lock:
            try:
                call_command("migrate", interactive=False, verbosity=0)
                counts = read_export(file)
                access_log.note(access_log.Kind.IMPORTED)
            except CannotImport as error:
                raise CommandError(str(error)) from error
        self.stdout.write(f"{sum(counts.values())} records of {len(counts)} tables are imported from {file}.")
        self.stdout.write("No export holds passwords. Start with make run; within three days these choose new ones:")
        for owner in get_user_model().objects.filter(is_superuser=True, is_active=True).order_by("pk"):
            path = reverse("choose-password", args=[new_link(owner)])
            self.stdout.write(f"  {owner.get_username()}, at http://127.0.0.1:8000{path}")
