"""python manage.py serve: make the workshop ready and serve it on this machine."""

import sys
from argparse import ArgumentTypeError

from django.conf import settings
from django.core.management.base import BaseCommand
from django.urls import reverse

from workshop import daily, serving
from workshop.accounts import needs_owner
from workshop.links import new_link


def port_number(text: str) -> int:
    """Read a TCP port, refusing what none can be."""
    if not text.isdecimal() or not 1 <= int(text) <= 65535:
        raise ArgumentTypeError(f"a port is a whole number from 1 to 65535, not {text!r}")
    return int(text)


class Command(BaseCommand):
    """Serves the demo or one's own workshop until stopped with Ctrl-C."""

    help = "Makes the workshop ready and serves it on this machine only."

    def add_arguments(self, parser):
        parser.add_argument("--port", type=port_number, default=8000)

    def handle(self, *, port, **options):
        try:
            listener = serving.open_port(port)
            lock = serving.hold()
            serving.prepare()
        except serving.CannotStart as reason:
            sys.exit(f"Dialside cannot start. {reason}")
        server = serving.server_on(listener)
        name = "demo workshop" if settings.DIALSIDE_DEMO else "your workshop"
        self.stdout.write(f"Dialside ({name}) is at http://{serving.HOST}:{port}/  (Ctrl-C stops it)")
        if needs_owner():
            path = reverse("first-start", args=[new_link()])
            self.stdout.write(
                f"No account yet. Make the owner's at this address, which works once, until the next start:\n"
                f"  http://{serving.HOST}:{port}{path}"
            )
        self.stdout.flush()
        if not settings.DIALSIDE_DEMO:
            daily.start()
        with lock:
            server.run()
