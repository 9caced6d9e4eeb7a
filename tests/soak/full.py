"""A disk that fills up, and one that turns read-only, in the middle of each action: words, nothing lost, and on again.

The workshop lies on a small disk in memory, which only root can make; elsewhere the part is skipped.
"""

import os
import random
import shutil
import signal
import subprocess
import tempfile
from contextlib import contextmanager
from pathlib import Path

from tests.ready import put_ready_database
from tests.soak.ledger import Ledger, sqlite
from tests.soak.part import Found
from tests.soak.place import Place
from tests.soak.writing import Writer

DISK_MB = 64
COMMANDS = ("backup", "export")


def run(rounds=40, seed=1):
    with _disk() as disk:
        if disk is None:
            return Found(skipped="only root can make a small disk for it")
        put_ready_database(disk / "workshop" / "dialside.sqlite3")
        with Place(disk) as place:
            return _Trial(place, random.Random(seed)).run(rounds)


class _Trial:
    """One workshop whose disk is filled and emptied, or turned read-only and back, while somebody writes."""

    def __init__(self, place, chance):
        self.place, self.chance, self.found, self.ledger = place, chance, Found(), Ledger()
        self.answers = {}

    def run(self, rounds):
        port = self.place.start()
        self.writer = Writer(self.place.visitor(port), self.ledger)
        self.writer.log()
        for number in range(rounds):
            trouble = (self._full, self._read_only)[number % 2]
            with trouble():
                self._act(trouble.__name__.strip("_"))
            self._act("well again")
        said = self.place.end(port, signal.SIGINT)
        if "Traceback" in said:
            self.found.faults.append(f"the server told of a fault: {said[-600:]}")
        ask = sqlite(self.place.database)
        self.found.faults += [f"lost {what}" for what in self.ledger.lost(ask, self.place.home / "files")]
        if (sound := ask("PRAGMA integrity_check")) != [("ok",)]:
            self.found.faults.append(f"integrity_check says {sound}")
        self.found.figures = [
            ("times full, times read-only", f"{(rounds + 1) // 2}, {rounds // 2}"),
            ("acknowledged writes", len(self.ledger)),
            *((f"answers, {state}", told) for state, told in self.answers.items()),
        ]
        return self.found

    def _act(self, state):
        """Each step of a writer and each command, once: done, or refused in words; when well, all of it is done."""
        writer, counts = self.writer, self.answers.setdefault(state, {"done": 0, "refused": 0})
        for step in (writer.write_remark, writer.put_minutes, writer.photo, writer.log):
            writer.errors = []
            step()
            told = "".join(writer.errors)
            counts["refused" if told else "done"] += 1
            if told and (state == "well again" or " answered 503: " not in told or "Nothing was saved" not in told):
                self.found.faults.append(f"{state}: {told}")
        for command in COMMANDS:
            done = self.place.manage(command)
            counts["refused" if done.returncode else "done"] += 1
            if "Traceback" in done.stderr or (done.returncode and state == "well again"):
                self.found.faults.append(f"{state}, {command}: {done.stderr[-400:]}")
        for made in (*self.place.home.glob("backups/*.zip"), *self.place.home.glob("exports/*")):
            if made.name.endswith(".part"):
                self.found.faults.append(f"{state}: {made.name} is left")
            elif state == "well again":
                made.unlink()

    @contextmanager
    def _full(self):
        """Nearly full: what is left is drawn, so that each action stops at another place."""
        ballast = self.place.folder / "ballast"
        left = self.chance.choice((0, 4096, 40_000, 200_000))
        free = shutil.disk_usage(self.place.folder).free
        with ballast.open("wb") as file:
            os.posix_fallocate(file.fileno(), 0, max(free - left, 1))
        try:
            yield
        finally:
            ballast.unlink()

    @contextmanager
    def _read_only(self):
        """A disk with open files cannot be turned so; what is mounted over it can, and what is opened then meets it."""
        folder = str(self.place.folder)
        turned = _mount("--bind", folder, folder) and _mount("-o", "remount,bind,ro", folder)
        assert turned, "the folder could not be turned read-only"
        try:
            yield
        finally:
            subprocess.run(["umount", "--lazy", folder], check=True)


@contextmanager
def _disk():
    """A small disk in memory; None where none can be made."""
    folder = Path(tempfile.mkdtemp(prefix="dialside-soak-disk-"))
    made = os.geteuid() == 0 and _mount("-t", "tmpfs", "-o", f"size={DISK_MB}m", "tmpfs", str(folder))
    try:
        yield folder if made else None
    finally:
        if made:
            subprocess.run(["umount", "--lazy", str(folder)], check=True)
        folder.rmdir()


def _mount(*words):
    return subprocess.run(["mount", *words], capture_output=True).returncode == 0
