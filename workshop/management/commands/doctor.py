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
        for finding in doctor.examine():
            self.stdout.write(f"{_SIGNS[finding.state]:6} {finding.what:24} {finding.says}")
            worst = max(worst, finding.state, key=("well", "mind", "mend").index)
        if worst == "mend":
            sys.exit(1)
