"""`manage.py doctor`: look the installation and the data over, and say what to do."""

import sys

from django.core.management.base import BaseCommand

from workshop.safekeeping import doctor

_SIGNS = {"well": "ok", "mind": "CHECK", "mend": "REPAIR"}


class Command(BaseCommand):
    help = "Checks the installation, the database, the files and the backups, and says what to do."
    requires_system_checks = []

    def handle(self, **options):
        worst = "well"
        for found in doctor.examine():
            self.stdout.write(f"{_SIGNS[found.state]:6} {found.what:24} {found.told}")
            worst = max(worst, found.state, key=("well", "mind", "mend").index)
        if worst == "mend":
            sys.exit(1)
