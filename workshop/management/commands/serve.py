"""python manage.py serve: make the workshop ready and serve it, on this machine or encrypted on the bench's network."""

import io
import sys
from argparse import ArgumentTypeError
from typing import Any

import segno
from django.conf import settings
from django.core.management.base import BaseCommand
from django.urls import reverse

from workshop.accounts import passwords
from workshop.accounts.links import new_link
from workshop.accounts.managing import needs_owner
from workshop.safekeeping import daily
from workshop.serving import certificate, startup


def port_number(text: str) -> int:
    """Read a TCP port, refusing what none can be."""
    if not text.isdecimal() or not 1 <= int(text) <= 65535:
        raise ArgumentTypeError(f"a port is a whole number from 1 to 65535, not {text!r}")
    return int(text)


class Command(BaseCommand):
    """Serves the demo or one's own workshop until stopped with Ctrl-C."""

    help = "Makes the workshop ready and serves it, on this machine only unless DIALSIDE_LAN says otherwise."

    def add_arguments(self, parser):
        parser.add_argument("--port", type=port_number, default=8000)

    def handle(self, *, port: int, **options: Any) -> None:
        address, secured = settings.DIALSIDE_LAN, None
        try:
            listeners = [startup.open_port(port, host) for host in filter(None, (startup.HOST, address))]
            lock = startup.hold()
            startup.prepare()
            if settings.ON_NETWORK:
                _hold_back_from_network("LAN" if address else "DIALSIDE_PROXY")
            if address:
                secured = certificate.certificate_file(settings.DIALSIDE_FOLDER, settings.ALLOWED_HOSTS)
        except startup.CannotStart as reason:
            sys.exit(f"Dialside cannot start. {reason}")
        if secured:
            self._tell_network(f"https://{address}:{port}/", secured)
        elif settings.DIALSIDE_PROXY:
            self.stdout.write(
                f"Dialside (your workshop) is at {settings.DIALSIDE_PROXY}/ by the proxy, which asks this process at "
                f"{startup.HOST}:{port}  (Ctrl-C stops it)"
            )
        else:
            self._tell_here(f"http://{startup.HOST}:{port}")
        self.stdout.flush()
        if not settings.DIALSIDE_DEMO:
            daily.start()
        with lock:
            startup.serve(listeners, secured)

    def _tell_here(self, place):
        name = "demo workshop" if settings.DIALSIDE_DEMO else "your workshop"
        self.stdout.write(f"Dialside ({name}) is at {place}/  (Ctrl-C stops it)")
        if needs_owner():
            path = reverse("first-start", args=[new_link()])
            self.stdout.write(
                "No account yet. Create the owner's at this address; it works once, until the next start:\n"
                f"  {place}{path}"
            )

    def _tell_network(self, url, secured):
        code = io.StringIO()
        segno.make(url, micro=False).terminal(code, compact=True)
        self.stdout.write(code.getvalue())
        self.stdout.write(
            f"Dialside (your workshop) is at {url} for every device on this network  (Ctrl-C stops it)\n"
            "Browsers warn about the certificate, because this workshop made it. Continue only if it shows this "
            f"SHA-256 fingerprint:\n  {certificate.fingerprint(secured)}\n"
            f"It ends on {certificate.ends(secured):%d %B %Y}; a start in the month before makes a new one."
        )


def _hold_back_from_network(setting):
    """Raise CannotStart while somebody could get in from the network too easily, where that setting puts it."""
    if needs_owner():
        raise startup.CannotStart(
            f"No account yet. Start without {setting} first and create the owner's account, then come back."
        )
    if weak := passwords.unproven():
        raise startup.CannotStart(
            f"On the network every password must be strong, and this is not certain for: {', '.join(weak)}. Start "
            f"without {setting}, sign in with that account, change its password if you are asked to, then come back. "
            "An account that nobody uses can be switched off."
        )
