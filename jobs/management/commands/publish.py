"""`manage.py publish`: write the show window's site into its folder, and into another one where that is named."""

from pathlib import Path

from django.core.management.base import BaseCommand, CommandError

from jobs.window.publishing import NotShown, folder, publish
from jobs.window.writing import Busy


class Command(BaseCommand):
    help = "Writes the show window's site; only what changed is written."

    def add_arguments(self, parser):
        parser.add_argument("--to", type=Path, help="also into this folder, such as that of a git repository")

    def handle(self, to=None, **options):
        try:
            done = publish(to)
        except (NotShown, Busy) as refusal:
            raise CommandError(str(refusal)) from refusal
        except OSError as error:
            raise CommandError(f"The site could not be written: {error.strerror}. What was there stays.") from error
        counts = f"{len(done.new)} new, {len(done.changed)} changed, {len(done.gone)} taken away"
        self.stdout.write(f"{folder()}: {counts}.")
        if to:
            self.stdout.write(f"{to} has the same files.")
