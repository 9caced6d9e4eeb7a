"""`manage.py publish`: write the show window's site into its folder, and into another one or a bucket that is named."""

from pathlib import Path

from django.core.management.base import BaseCommand, CommandError

from jobs.window.publishing import NotShown, folder, publish
from jobs.window.writing import Busy, listed
from workshop.safekeeping.copying import bucket


class Command(BaseCommand):
    help = "Writes the show window's site; only what changed is written."

    def add_arguments(self, parser):
        parser.add_argument(
            "--to", default="", help="also into this folder, such as a git repository's, or s3://bucket"
        )

    def handle(self, to="", **options):
        is_bucket = str(to).startswith("s3://")
        try:
            done = publish(Path(to) if to and not is_bucket else None)
            sent = bucket.copy(folder(), listed(folder()), to) if is_bucket else None
        except (NotShown, Busy, bucket.NotCopied) as refusal:
            raise CommandError(str(refusal)) from refusal
        except OSError as error:
            raise CommandError(f"The site could not be written: {error.strerror}. What was there stays.") from error
        counts = f"{len(done.new)} new, {len(done.changed)} changed, {len(done.gone)} taken away"
        self.stdout.write(f"{folder()}: {counts}.")
        if sent:
            self.stdout.write(f"{to}: {sent.sent} sent, {sent.gone} taken away.")
        elif to:
            self.stdout.write(f"{to} has the same files.")
