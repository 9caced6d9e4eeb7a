"""Backups while eight people write: each is restored elsewhere and held against what was acknowledged before."""

import shutil
import tempfile
import time
from pathlib import Path

from tests.soak.ledger import Ledger, sqlite
from tests.soak.part import Found
from tests.soak.place import Place, manage
from tests.soak.writing import Writer, at_work

WRITERS = 8
PAUSE_S = 1.0


def run(count=10):
    found, ledger = Found(), Ledger()
    held, times = 0, []
    with Place() as place:
        port = place.start()
        writers = [Writer(place.visitor(port), ledger, index) for index in range(WRITERS)]
        with at_work(writers):
            for number in range(count):
                time.sleep(PAUSE_S)
                before, begun = ledger.copy(), time.perf_counter()
                made = place.manage("backup")
                times.append(time.perf_counter() - begun)
                if made.returncode:
                    found.faults.append(f"backup {number} was not made: {made.stderr.strip()[-300:]}")
                    continue
                found.faults += [f"backup {number}: {what}" for what in _restored(made.stdout, before)]
                held += len(before)
        found.faults += [error for one in writers for error in one.errors]
        found.faults += [f"the workshop itself lost {what}" for what in ledger.lost(*_asked(place.home))]
    found.figures = [
        ("backups under load, restored", count),
        ("acknowledged writes held against", held),
        ("writes while they were made", len(ledger)),
        ("longest backup", f"{max(times):.1f} s"),
    ]
    return found


def _restored(said, before):
    """What a backup lost, restored into a folder where nothing was before."""
    folder = Path(tempfile.mkdtemp(prefix="dialside-soak-restored-"))
    try:
        done = manage(folder, "restore", said.split(" holds ")[0])
        if done.returncode:
            return [f"not restored: {done.stderr.strip()[-300:]}"]
        ask, files = _asked(folder / "workshop")
        lost = [f"lost {what}" for what in before.lost(ask, files)]
        named = [name for row in ask("SELECT file, thumbnail FROM jobs_photo") for name in row]
        lost += [f"the row of {name} has no file" for name in named if not (files / name).exists()]
        return lost + [f"integrity_check says {told}" for (told,) in ask("PRAGMA integrity_check") if told != "ok"]
    finally:
        shutil.rmtree(folder)


def _asked(home):
    return sqlite(home / "dialside.sqlite3"), home / "files"
