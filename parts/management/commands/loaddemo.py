"""python manage.py loaddemo: fill the demo workshop."""

from django.core.management.base import BaseCommand


class Command(BaseCommand):
    """Fills the demo workshop; leaves one that is filled already as it is."""

    help = "Fills the demo workshop."

    def handle(self, **options):
        pass
