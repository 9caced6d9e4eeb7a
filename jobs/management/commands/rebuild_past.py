"""`manage.py rebuild_past`: make the records of past swaps anew from the jobs."""

from django.core.management.base import BaseCommand

from jobs.past.record import rebuild_all


class Command(BaseCommand):
    help = "Makes the records that past swaps are found and counted by anew from the jobs. Nothing else changes."

    def handle(self, **options):
        self.stdout.write(f"{rebuild_all()} jobs are remembered.")
