"""Getting a workshop ready and serving it: on this machine only, to a proxy here, or encrypted on the network."""

import contextlib
import errno
import hashlib
import socket
from typing import Any

import uvicorn
from a2wsgi import WSGIMiddleware
from django.conf import settings
from django.contrib.staticfiles import finders
from django.core.management import call_command
from django.core.wsgi import get_wsgi_application
from django.db import connection

from workshop.safekeeping import disk, restoring, safe_migrate, workplace
from workshop.safekeeping.backup import BackupError
from workshop.serving import serving_lock
from workshop.serving.slow_clients import PatientProtocol, patient

HOST = "127.0.0.1"
THREADS = 8
CIPHERS = "ECDHE+AESGCM:ECDHE+CHACHA20"
"""For TLS 1.2, the least that is spoken; those of TLS 1.3 are all good."""


class CannotStart(Exception):
    """Says in a sentence for the person why the workshop cannot be served."""


def open_port(port: int, host: str = HOST) -> socket.socket:
    """Listen on the port at once, so that a busy one is told before any other work."""
    listener = socket.socket(socket.AF_INET, socket.SOCK_STREAM)
    listener.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
    try:
        listener.bind((host, port))
        listener.listen()
    except OSError as error:
        listener.close()
        if error.errno == errno.EADDRINUSE:
            reason = "is in use by another program. Choose another one"
        elif error.errno == errno.EACCES:
            reason = "is reserved. Choose one above 1023"
        else:
            raise
        example = 8001 if port == 8000 else 8000
        raise CannotStart(f"Port {port} {reason}, for example: PORT={example}") from error
    return listener


def hold():
    """Hold the workshop while it is served, so that no restore swaps it meanwhile; with others on PostgreSQL only."""
    lock = serving_lock.take(shared=connection.vendor != "sqlite")
    if lock is None:
        raise CannotStart("This workshop is already running in another process; stop that one first.")
    return lock


def prepare() -> None:
    """Finish what was cut off, close the folder to others, update the database, fill the demo, lay static files out."""
    workplace.sweep()
    disk.tighten(settings.DIALSIDE_FOLDER)
    try:
        restoring.go_on()
        safe_migrate.bring_up_to_date()
    except (BackupError, safe_migrate.NotReady) as error:
        raise CannotStart(str(error)) from error
    if settings.DIALSIDE_DEMO:
        call_command("loaddemo")
    collect_static()


def collect_static() -> bool:
    """Collect, hash and compress the static files, unless none changed since the last time."""
    stamp = settings.DIALSIDE_FOLDER / "static.stamp"
    wanted = _static_digest()
    if stamp.exists() and stamp.read_text() == wanted:
        return False
    call_command("collectstatic", interactive=False, clear=True, verbosity=0)
    stamp.write_text(wanted)
    return True


def serve(listeners: list[socket.socket], certificate=None) -> None:
    """Serve the application on these ports until stopped; encrypted where there is a certificate."""
    wsgi: Any = get_wsgi_application()
    application = patient(WSGIMiddleware(wsgi, workers=THREADS))
    config = uvicorn.Config(
        application,
        http=PatientProtocol,
        ws="none",
        lifespan="off",
        log_level="warning",
        access_log=False,
        server_header=False,
        proxy_headers=bool(settings.DIALSIDE_PROXY),
        forwarded_allow_ips=HOST,
        limit_concurrency=500,
        timeout_keep_alive=30,
        timeout_graceful_shutdown=5,
        ssl_certfile=certificate,
        ssl_ciphers=CIPHERS,
    )
    with contextlib.suppress(KeyboardInterrupt):
        uvicorn.Server(config).run(sockets=listeners)


def _static_digest() -> str:
    digest = hashlib.sha256(settings.STORAGES["staticfiles"]["BACKEND"].encode())
    for finder in finders.get_finders():
        for path, storage in finder.list(ignore_patterns=[]):
            digest.update(f"{path} {storage.size(path)} {storage.get_modified_time(path)}\n".encode())
    return digest.hexdigest()
