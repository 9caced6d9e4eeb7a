"""A workshop in a folder of its own, served by the real program in a process of its own."""

import os
import re
import shutil
import signal
import socket
import subprocess
import sys
import tempfile
import time
from pathlib import Path

from tests.ready import put_ready_database
from tests.soak.visitor import Lost, Visitor

ROOT = Path(__file__).resolve().parents[2]
START_S = 90
PASSWORD = "brass-mainplate-71"


def environment(folder, **more):
    """The environment of a fresh process for this folder, free of what the tests run under."""
    ours = ("DIALSIDE_", "DJANGO_")
    kept = {name: value for name, value in os.environ.items() if not name.startswith(ours)}
    return kept | {"DIALSIDE_DATA": str(folder)} | more


def manage(folder, *words, root=ROOT, **more):
    """Run a command of the program in a folder's workshop; returns the finished process."""
    call = [sys.executable, "manage.py", *words]
    return subprocess.run(call, cwd=root, env=environment(folder, **more), capture_output=True, text=True)


def free_port(host="127.0.0.1"):
    with socket.create_server((host, 0)) as free:
        return free.getsockname()[1]


class Place:
    """One workshop: its folder, its servers, and the cookies of its owner. A context that cleans up after itself."""

    def __init__(self, folder=None, **more):
        self.folder, self.more = Path(folder or tempfile.mkdtemp(prefix="dialside-soak-")), more
        self.servers, self.cookies = {}, {}
        if not (folder or more):
            put_ready_database(self.database)

    def __enter__(self):
        return self

    def __exit__(self, *_):
        for port in list(self.servers):
            self.end(port, signal.SIGKILL)
        shutil.rmtree(self.folder, ignore_errors=True)

    @property
    def home(self):
        return self.folder / "workshop"

    @property
    def database(self):
        return self.home / "dialside.sqlite3"

    def manage(self, *words):
        return manage(self.folder, *words, **self.more)

    def start(self):
        """Serve the workshop on a free port, with an owner from the first time on; returns the port."""
        port = free_port()
        log = (self.folder / f"server-{port}.log").open("w+")
        call = [sys.executable, "manage.py", "serve", "--port", str(port)]
        env = environment(self.folder, PYTHONUNBUFFERED="1", **self.more)
        self.servers[port] = subprocess.Popen(call, cwd=ROOT, env=env, stdout=log, stderr=subprocess.STDOUT), log
        self._wait(port)
        if not (self.cookies or self.more.get("DIALSIDE_DEMO")):
            self._sign_in(port)
        return port

    def end(self, port, how):
        """End the server on a port; returns all that it said."""
        server, log = self.servers.pop(port)
        server.send_signal(how)
        server.wait(30)
        log.seek(0)
        with log:
            return log.read()

    def visitor(self, port):
        """The owner at another device, signed in."""
        return Visitor(port, dict(self.cookies))

    def _wait(self, port):
        visitor, end = Visitor(port), time.monotonic() + START_S
        while time.monotonic() < end and self.servers[port][0].poll() is None:
            try:
                if visitor.get("/health/")[0] == 200:
                    return visitor.close()
            except Lost:
                time.sleep(0.05)
        raise RuntimeError(f"the server did not start: {self.end(port, signal.SIGKILL)}")

    def _sign_in(self, port):
        """Make the owner's account by the address in the terminal; sign in where it is there already."""
        first = re.search(r"/first-start/\S+", Path(self.servers[port][1].name).read_text())
        path = first[0] if first else "/sign-in/"
        words = ("password1", "password2") if first else ("password",)
        visitor = Visitor(port, self.cookies)
        visitor.get(path)
        status, _, text = visitor.post(path, {"username": "owner"} | dict.fromkeys(words, PASSWORD))
        visitor.close()
        if status != 302:
            raise RuntimeError(f"the owner could not come in: {status} {text[:2000]}")
