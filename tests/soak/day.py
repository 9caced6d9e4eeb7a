"""A day's worth of requests to one server: its memory and its open files do not grow, nor do its answers get slower."""

import html
import os
import re
import signal
import statistics
import time
from pathlib import Path

from tests.soak.part import Found
from tests.soak.place import Place

REQUESTS = 20_000
"""More than three people at the bench ask for in a day of eight hours: one in four seconds each."""
LINK, MOST = re.compile(r'<a [^>]*href="(/[^"#]*)"'), 60
GROWTH_MB, GROWTH_FILES, SLOWER = 40, 4, 1.5


def run(requests=REQUESTS):
    found = Found()
    with Place(DIALSIDE_DEMO="1") as place:
        port = place.start()
        visitor, server = place.visitor(port), place.servers[port][0].pid
        addresses = _addresses(visitor)
        quarter, times, marks = requests // 4, [], []
        for number in range(requests):
            begun = time.perf_counter()
            status, _, text = visitor.get(addresses[number % len(addresses)])
            times.append(time.perf_counter() - begun)
            if status >= 500:
                found.faults.append(f"{addresses[number % len(addresses)]} answered {status}: {text[:200]}")
            if number % quarter == quarter - 1:
                marks.append((_memory_mb(server), len(os.listdir(f"/proc/{server}/fd"))))
        place.end(port, signal.SIGINT)
    (early, files), (late, files_late) = marks[0], marks[-1]
    first, last = statistics.median(times[:quarter]), statistics.median(times[-quarter:])
    if late - early > GROWTH_MB:
        found.faults.append(f"the server grew from {early:.0f} to {late:.0f} MB")
    if files_late - files > GROWTH_FILES:
        found.faults.append(f"open files grew from {files} to {files_late}")
    if last > SLOWER * first:
        found.faults.append(f"answers went from {first * 1000:.0f} to {last * 1000:.0f} ms")
    found.figures = [
        ("requests, different pages", f"{requests}, {len(addresses)}"),
        ("memory after a quarter, at the end", f"{early:.0f} MB, {late:.0f} MB"),
        ("open files then", f"{files}, {files_late}"),
        ("median answer, first and last quarter", f"{first * 1000:.0f} ms, {last * 1000:.0f} ms"),
    ]
    return found


def _addresses(visitor):
    """The bench, what it links to, and what one page of each of those links to: pages and papers."""
    seen = {"/": None}
    for step in range(3):
        for address in list(seen)[: 1 if step == 0 else MOST]:
            status, _, text = visitor.get(address)
            if status != 200:
                del seen[address]
                continue
            seen |= dict.fromkeys(html.unescape(link) for link in LINK.findall(text))
    return [address for address in list(seen)[:MOST] if visitor.get(address)[0] == 200]


def _memory_mb(process):
    """What it holds in memory, after /proc's own count of pages."""
    pages = int(Path(f"/proc/{process}/statm").read_text().split()[1])
    return pages * os.sysconf("SC_PAGE_SIZE") / 1e6
