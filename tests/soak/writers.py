"""Eight people who write at the same time: nobody sees an error, and everything acknowledged is there."""

import signal
import statistics
import time

from tests.soak.ledger import Ledger, sqlite
from tests.soak.part import Found
from tests.soak.place import Place
from tests.soak.writing import Writer, at_work

WRITERS = 8


def run(seconds=60):
    with Place() as place:
        port, ledger = place.start(), Ledger()
        writers = write([place.visitor(port) for _ in range(WRITERS)], ledger, seconds)
        place.end(port, signal.SIGINT)
        lost = ledger.lost(sqlite(place.database), place.home / "files")
        sound = sqlite(place.database)("PRAGMA integrity_check")
    found = judged(writers, ledger, lost, seconds)
    if sound != [("ok",)]:
        found.faults.append(f"integrity_check says {sound}")
    return found


def write(visitors, ledger, seconds):
    """Have a writer write for so long at each of these visitors' devices; returns the writers."""
    writers = [Writer(visitor, ledger, index) for index, visitor in enumerate(visitors)]
    with at_work(writers):
        time.sleep(seconds)
    return writers


def judged(writers, ledger, lost, seconds):
    """Figures and faults of writers."""
    times = [1000 * one for writer in writers for one in writer.times]
    errors = [error for writer in writers for error in writer.errors]
    cuts = statistics.quantiles(times, n=100)
    figures = [
        ("writers, seconds", f"{len(writers)}, {seconds}"),
        ("acknowledged writes", len(ledger)),
        ("errors shown", len(errors)),
        ("lost", len(lost)),
        ("p50, p95, p99 of a write", ", ".join(f"{cuts[at - 1]:.0f} ms" for at in (50, 95, 99))),
    ]
    return Found(figures, errors + [f"lost {what}" for what in lost])
