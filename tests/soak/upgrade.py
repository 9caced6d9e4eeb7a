"""Demo workshops made by earlier programs, opened by this one: brought up to date, every page there, every row kept."""

import shutil
import signal
import sqlite3
import subprocess
import tempfile
from contextlib import closing
from pathlib import Path

from tests.soak.part import Found
from tests.soak.place import ROOT, Place, manage
from tests.soak.visitor import Visitor

OLDEST = ("jobs/migrations/0004_timing_rules.py", "parts/migrations/0004_holder_photos.py")
"""The oldest demo that is opened is that of the first commit that has all of these."""
PAGES = ("/", "/jobs/", "/jobs/log/", "/customers/", "/orders/", "/past/", "/past/near/", "/past/numbers/", "/shop/")
PARTS = ("/parts/", "/parts/pairings/", "/parts/goes-in/", "/parts/goes-in/cases/", "/parts/holders/", "/search/?q=a")
OWN = ("/account/", "/people/", "/admin/", "/shop/rules/", "/parts/holders/prints/")


def run(count=2):
    """Open the demo of the commit before this one, and with `count` 2 that of the oldest commit too."""
    commits = earlier()[:count]
    if not commits:
        return Found(skipped="there is no history here to take an earlier program from")
    found = Found()
    for commit in commits:
        _open_demo_of(commit, found)
    return found


def earlier():
    """The commit before this one and the oldest whose demo is opened; empty without a history."""
    before = _git("rev-parse", "--verify", "--quiet", "HEAD~1")
    both = [_git("log", "--format=%H", "--diff-filter=A", "--", path) for path in OLDEST]
    if not before or not all(both):
        return [before] if before else []
    first, second = both
    newer = first if _git("merge-base", first, second) == second else second
    return [before, newer]


def _git(*words):
    try:
        done = subprocess.run(["git", *words], cwd=ROOT, capture_output=True, text=True)
    except FileNotFoundError:
        return ""
    return done.stdout.strip() if done.returncode == 0 else ""


def _open_demo_of(commit, found):
    tree = Path(tempfile.mkdtemp(prefix="dialside-soak-earlier-"))
    packed = subprocess.run(["git", "archive", commit], cwd=ROOT, capture_output=True, check=True).stdout
    subprocess.run(["tar", "-x", "-C", tree], input=packed, check=True)
    try:
        with Place(DIALSIDE_DEMO="1") as place:
            _made_by(tree, place)
            before = _rows(place)
            pages, wrong = _every_page(place)
            after = _rows(place)
    finally:
        shutil.rmtree(tree)
    lost = [
        f"{name}: {many} rows, now {after.get(name, 0)}" for name, many in before.items() if after.get(name, 0) < many
    ]
    found.faults += [f"{commit[:7]}: {fault}" for fault in wrong + lost]
    told = f"{pages} pages, {len(before)} tables with {sum(before.values())} rows, {len(after)} tables now"
    found.figures.append((f"demo of {commit[:7]}", told))


def _made_by(tree, place):
    for words in (["migrate", "--verbosity", "0"], ["loaddemo"]):
        done = manage(place.folder, *words, root=tree, DIALSIDE_DEMO="1")
        if done.returncode:
            raise RuntimeError(f"the earlier program could not {words[0]}: {done.stderr[-500:]}")


def _rows(place):
    """Rows of each table that holds what somebody wrote, sessions and what is made anew left out."""
    with closing(sqlite3.connect(place.folder / "demo" / "dialside.sqlite3")) as opened:
        tables = [name for (name,) in opened.execute("SELECT name FROM sqlite_master WHERE type = 'table'")]
        kept = [name for name in tables if name.startswith(("jobs_", "parts_", "auth_")) and "_past" not in name]
        kept = [
            name for name in kept if not name.startswith(("jobs_toremember", "jobs_stalerecord", "auth_permission"))
        ]
        return {name: opened.execute(f'SELECT count(*) FROM "{name}"').fetchone()[0] for name in kept}


def _every_page(place):
    """How many pages answered, and those that did not answer 200: of the navigation, and one of each record."""
    port = place.start()
    visitor, wrong = Visitor(port), []
    with closing(sqlite3.connect(place.folder / "demo" / "dialside.sqlite3")) as opened:
        jobs = [f"/jobs/{number}/" for (number,) in opened.execute("SELECT number FROM jobs_job")]
        pairings = [f"/parts/pairings/{key}/" for (key,) in opened.execute("SELECT id FROM parts_pairing")]
    pages = [*PAGES, *PARTS, *OWN, *jobs, *pairings]
    for page in pages:
        status, led, _ = visitor.get(page)
        if status != 200:
            wrong.append(f"{page} answered {status} {led}")
    visitor.close()
    place.end(port, signal.SIGINT)
    return len(pages), wrong
