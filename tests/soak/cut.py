"""Backup, restore, export, import and erasing cut off by SIGKILL at any moment: what was there, or what was asked for.

A restore that was cut off is finished or undone by the next start; nothing lies half one and half the other.
"""

import random
import shutil
import signal
import subprocess
import sys
import tempfile
import time
import zipfile
from pathlib import Path

from tests.ready import put_ready_database
from tests.soak.ledger import Ledger, sqlite
from tests.soak.part import Found
from tests.soak.place import ROOT, Place, environment, manage
from tests.soak.writing import Writer

ROUNDS = 8
"""How often the writer goes through its four steps before and after the backup."""
ERASE = (
    "from jobs.models import Customer, Job; from jobs.customers.erase import erase; "
    "from django.contrib.auth import get_user_model as users; "
    "who = Customer.objects.get(name={name!r}); Job.objects.filter(customer=who).update(state='cancelled'); "
    "erase(customer=who, by=users().objects.first(), empty_texts=True, drop_photos=True)"
)


def run(cycles=200, seed=1):
    with Place() as place:
        trial = _Trial(place, random.Random(seed))
        trial.prepare()
        acts = [trial.backup, trial.restore, trial.export, trial.import_again, trial.erase]
        for cycle in range(cycles):
            act = acts[cycle % len(acts)]
            trial.found.faults += [f"cycle {cycle}, {act.__name__}: {what}" for what in act()]
        return trial.told(cycles)


class _Trial:
    """A workshop in two states that a restore swaps, the last backup and export of it, and how long each act takes."""

    def __init__(self, place, chance):
        self.place, self.chance, self.found = place, chance, Found()
        self.times, self.killed, self.states, self.others = {}, 0, [], []

    def prepare(self):
        ledger = Ledger()
        for _ in range(2):
            self._write(ledger)
            made = self.place.manage("backup").stdout.split(" holds ")[0]
            kept = self.place.folder / f"state-{len(self.states)}.zip"
            shutil.copy(made, kept)
            self.states.append((kept, ledger.copy()))
        self.exported = self.place.folder / "export.zip"
        self.place.manage("export", str(self.exported))

    def backup(self):
        self._cut("backup")
        made = sorted((self.place.home / "backups").glob("dialside-*.zip"))
        for file in made[-2:]:
            try:
                if zipfile.ZipFile(file).testzip():
                    yield f"{file.name} is damaged"
            except zipfile.BadZipFile:
                yield f"{file.name} is no ZIP"
        if not made:
            yield "the backup before is gone"
        yield from self._whole()

    def export(self):
        target = self.place.folder / "cut-export.zip"
        target.unlink(missing_ok=True)
        self._cut("export", str(target))
        if target.exists() and zipfile.ZipFile(target).testzip():
            yield "the export is damaged"

    def restore(self):
        file, _ = self.chance.choice(self.states)
        self._cut("restore", str(file))
        yield from self._whole()

    def import_again(self):
        """Into an empty workshop of its own, and once more after the cut: all of it, or that it is there already."""
        folder = Path(tempfile.mkdtemp(prefix="dialside-soak-import-"))
        try:
            put_ready_database(folder / "workshop" / "dialside.sqlite3")
            self._cut("import_export", str(self.exported), folder=folder)
            done = manage(folder, "import_export", str(self.exported))
            if done.returncode and "not empty" not in done.stderr:
                yield f"it could not be imported again: {done.stderr[-300:]}"
            ask, files = sqlite(folder / "workshop" / "dialside.sqlite3"), folder / "workshop" / "files"
            yield from (f"lost {what}" for what in self.states[-1][1].lost(ask, files))
        finally:
            shutil.rmtree(folder)

    def erase(self):
        """One customer of the state that is there: wholly there or wholly gone, also from the bytes of the files."""
        ask = sqlite(self.place.database)
        (name,) = self.chance.choice(ask("SELECT name FROM jobs_customer WHERE NOT is_erased"))
        done = self._cut("shell", "--no-imports", "-c", ERASE.format(name=name))
        self._start_and_stop()
        if ask(f"SELECT 1 FROM jobs_customer WHERE name = '{name}'"):
            if done:
                yield f"{name} is still there"
        else:
            held = [path for path in self._files() if name.encode() in path.read_bytes()]
            yield from (f"{name} still stands in {path.name}" for path in held)
        # What was erased is there again, for the next cycles.
        self.place.manage("restore", str(self.states[-1][0]))
        yield from self._whole()

    def told(self, cycles):
        self.found.figures = [
            ("acts, each cut off by SIGKILL", f"{self.killed} of {cycles}; the others were done before"),
            ("acknowledged writes held against", len(self.states[-1][1])),
            *((f"{act}, uncut", f"{seconds:.1f} s") for act, seconds in self.times.items()),
        ]
        return self.found

    def _files(self):
        homes = [self.place.database, *self.place.home.glob("dialside.sqlite3-*"), *self.place.home.glob("files/**/*")]
        return [path for path in homes if path.is_file()]

    def _write(self, ledger):
        port = self.place.start()
        writer = Writer(self.place.visitor(port), ledger)
        for _ in range(ROUNDS):
            for step in (writer.log, writer.write_remark, writer.put_minutes, writer.photo):
                step()
        self.found.faults += writer.errors
        self.place.end(port, signal.SIGINT)

    def _cut(self, *words, folder=None):
        """Begin a command, and kill it at a random moment of the time that it takes uncut; whether it was done."""
        act = words[0]
        if act not in self.times:
            begun = time.monotonic()
            done = self._begin(words, folder)
            said = done.communicate()[0]
            self.times[act] = time.monotonic() - begun
            if done.returncode:
                self.found.faults.append(f"{act}, uncut: {said[-300:]}")
            return not done.returncode
        process = self._begin(words, folder)
        time.sleep(self.chance.uniform(0.4, 1.0) * self.times[act])
        self.killed += process.poll() is None
        process.kill()
        process.communicate()
        return process.returncode == 0

    def _begin(self, words, folder):
        env = environment(folder or self.place.folder)
        call = [sys.executable, "manage.py", *words]
        return subprocess.Popen(call, cwd=ROOT, env=env, stdout=subprocess.PIPE, stderr=subprocess.STDOUT, text=True)

    def _start_and_stop(self):
        self.place.end(self.place.start(), signal.SIGINT)

    def _whole(self):
        """What is wrong after the next start: the workshop is in the one state or the other, with all its files."""
        self._start_and_stop()
        ask, files = sqlite(self.place.database), self.place.home / "files"
        if (said := ask("PRAGMA integrity_check")) != [("ok",)]:
            yield f"integrity_check says {said}"
        jobs = ask("SELECT count(*) FROM jobs_job")[0][0]
        ledger = next((ledger for _, ledger in self.states if len(ledger.jobs) == jobs), None)
        if ledger is None:
            yield f"{jobs} jobs are there, neither state has so many"
            return
        yield from (f"lost {what}" for what in ledger.lost(ask, files))
        if left := [path.name for path in (self.place.home / "in-work").glob("*")]:
            yield f"left in the folder for work: {left}"
