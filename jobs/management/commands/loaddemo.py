"""`manage.py loaddemo`: fill the demo workshop."""

from django.conf import settings
from django.core.management.base import BaseCommand, CommandError

from jobs.demo.enquiries import fill_enquiries
from jobs.demo.holder_orders import fill_holder_orders
from jobs.demo.open_jobs import fill_bench
from jobs.demo.past_jobs import fill_past
from jobs.demo.people import open_shop
from jobs.demo.window import fill_window
from jobs.models import Job
from parts.demo import fill_workshop
from parts.models import CaseFamily, Pairing


class Command(BaseCommand):
    requires_system_checks = ()
    help = "Fills the demo workshop; leaves one that is already filled as it is."

    def handle(self, **options):
        if not settings.DIALSIDE_DEMO:
            raise CommandError("This is your own workshop; the demo is never loaded into it.")
        if not (CaseFamily.objects.exists() or Pairing.objects.exists()):
            open_shop()
            fill_workshop()
            fill_past()
            fill_bench()
            fill_window()
            fill_enquiries()
            fill_holder_orders()
            open_jobs = Job.objects.open().count()
            pairings = Pairing.objects.saved().filter(archived=False).count()
            past = Job.objects.count() - open_jobs
            contents = f"{pairings} fit checks, {open_jobs} watches on the bench and {past} from earlier"
            self.stdout.write(f"The demo workshop has {contents}.")
