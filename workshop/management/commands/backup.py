"""`manage.py backup`: a checked backup of the workshop, also while it runs."""

from django.core.management.base import BaseCommand, CommandError

from workshop.safekeeping import backup, restoring


class Command(BaseCommand):
    help = "Makes a backup of database and files in one file, and checks it."

    def handle(self, **options):
        if restoring.cut_off_ones():
            raise CommandError("A restore was cut off. Start Dialside, which finishes it; then make the backup.")
        try:
            made = backup.make_backup()
        except backup.BackupError as error:
            raise CommandError(str(error)) from error
        if backup.files_elsewhere():
            self.stdout.write("Photos and papers are in the storage of DIALSIDE_FILES; this backup leaves them there.")
        rows = sum(backup.check_backup(made)["rows"].values())
        self.stdout.write(f"{made} holds {rows} rows and {made.stat().st_size / 1e6:.1f} MB.")
