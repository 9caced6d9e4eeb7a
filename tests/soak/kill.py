"""Pulling the plug: the server is killed in the middle of writes and started again; nothing acknowledged is lost."""

import json
import random
import signal
import time

from tests.soak.ledger import Ledger, sqlite
from tests.soak.part import Found
from tests.soak.place import Place
from tests.soak.writing import Writer, at_work

WRITERS = 3
FIRST_WRITE_S = 30
SWEEP = (
    "import json, time; from workshop.safekeeping.orphan_files import orphans; "
    "print(json.dumps(orphans(now=time.time() + 7200)))"
)


def run(cycles=200, seed=1):
    chance, ledger, found = random.Random(seed), Ledger(), Found()
    kills = lost = 0
    with Place() as place:
        for cycle in range(cycles):
            port, new = place.start(), Ledger()
            errors = _write_and_kill(place, port, new, chance)
            kills += 1
            ask = sqlite(place.database)
            missing = new.lost(ask, place.home / "files")
            lost += len(missing)
            found.faults += [f"cycle {cycle}: lost {what}" for what in missing]
            found.faults += [f"cycle {cycle}: {what}" for what in errors]
            if (told := ask("PRAGMA integrity_check")) != [("ok",)]:
                found.faults.append(f"cycle {cycle}: integrity_check says {told}")
            if broken := ask("PRAGMA foreign_key_check"):
                found.faults.append(f"cycle {cycle}: foreign keys without rows {broken[:3]}")
            if not new:
                found.faults.append(f"cycle {cycle}: nothing was written before the kill")
            ledger.add(new)
        missing = ledger.lost(ask, place.home / "files")
        lost += len(missing)
        found.faults += [f"in the end: lost {what}" for what in missing]
        loose = _loose(place, ask)
        named = set(json.loads(place.manage("shell", "--no-imports", "-c", SWEEP).stdout))
        found.faults += [f"the sweep does not name {name}" for name in loose - named]
        found.faults += [f"the sweep names {name}, which a record names" for name in named - loose]
        left = sorted(path.name for path in place.home.iterdir())
        rows = ask("SELECT count(*) FROM jobs_job")[0][0]
    found.figures = [
        ("cycles, each ended by SIGKILL", kills),
        ("acknowledged writes", len(ledger)),
        ("lost", lost),
        ("jobs in the database", f"{rows}, of which acknowledged {len(ledger.jobs)}"),
        ("files without a record, all named", len(loose)),
        ("in the folder at the end", ", ".join(left)),
    ]
    return found


def _write_and_kill(place, port, ledger, chance):
    writers = [Writer(place.visitor(port), ledger, index) for index in range(WRITERS)]
    with at_work(writers) as stop:
        end = time.monotonic() + FIRST_WRITE_S
        while not ledger and time.monotonic() < end:
            time.sleep(0.01)
        time.sleep(chance.uniform(0.1, 0.9))
        stop.set()
        place.end(port, signal.SIGKILL)
    return [error for one in writers for error in one.errors]


def _loose(place, ask):
    root = place.home / "files"
    named = {name for row in ask("SELECT file, thumbnail FROM jobs_photo") for name in row}
    return {path.relative_to(root).as_posix() for path in root.rglob("*") if path.is_file()} - named
