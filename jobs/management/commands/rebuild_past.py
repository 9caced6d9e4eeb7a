"""`manage.py rebuild_past`: make the records of past swaps anew from the jobs."""

from django.core.management.base import BaseCommand

from jobs.past.record import rebuild_all


class Command(BaseCommand):
    help = "Rebuilds the records behind past swaps and shop figures from the jobs. Nothing else changes."

    def handle(self, **options):
        self.stdout.write(f"Past swaps rebuilt from {rebuild_all()} jobs.")
