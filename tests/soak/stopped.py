"""The server is stopped in the middle of writes (SIGSTOP) and goes on later: nobody sees an error, nothing is lost."""

import signal
import time

from tests.soak.ledger import Ledger, sqlite
from tests.soak.part import Found
from tests.soak.place import Place
from tests.soak.writing import Writer, at_work

WRITERS = 4
WRITE_S, STAND_S = 1.0, 4.0


def run(stops=10):
    ledger, before = Ledger(), []
    with Place() as place:
        port = place.start()
        writers = [Writer(place.visitor(port), ledger, index) for index in range(WRITERS)]
        server = place.servers[port][0]
        with at_work(writers):
            for _ in range(stops):
                time.sleep(WRITE_S)
                server.send_signal(signal.SIGSTOP)
                before.append(len(ledger))
                time.sleep(STAND_S)
                server.send_signal(signal.SIGCONT)
            time.sleep(WRITE_S)
        said = place.end(port, signal.SIGINT)
        lost = ledger.lost(sqlite(place.database), place.home / "files")
    faults = [error for one in writers for error in one.errors] + [f"lost {what}" for what in lost]
    faults += ["nothing was written after a stop"] if len(ledger) <= before[-1] else []
    faults += [f"the server told of a fault: {said[-500:]}"] if "Traceback" in said else []
    longest = max(second for one in writers for second in one.times)
    figures = [
        ("times stopped, each for", f"{stops}, {STAND_S:.0f} s"),
        ("acknowledged writes", len(ledger)),
        ("longest answer", f"{longest:.1f} s"),
    ]
    return Found(figures, faults)
