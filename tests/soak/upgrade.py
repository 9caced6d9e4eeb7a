"""Demo workshops made by earlier programs, opened by this one: brought up to date, every page there, every row kept."""

import contextlib
import shutil
import signal
import subprocess
import tempfile
from pathlib import Path

from tests.soak.ledger import sqlite
from tests.soak.part import Found
from tests.soak.place import PASSWORD, ROOT, Place, manage
from tests.soak.processes import own_database

ROOMS = "workshop/safekeeping/backup.py"
"""The first edition is the program before its modules got their rooms, this one among them."""
OLDEST = ("jobs/migrations/0004_timing_rules.py", "parts/migrations/0004_holder_photos.py")
"""The oldest demo that is opened is that of the first commit that has all of these."""
FILL = f"""
from django.conf import settings
from django.contrib.auth import get_user_model
from django.core.management import call_command
demo, settings.DIALSIDE_DEMO = settings.DIALSIDE_DEMO, True
call_command("loaddemo")
if not demo:
    owner, _ = get_user_model().objects.get_or_create(username="owner")
    owner.is_staff = owner.is_superuser = True
    owner.set_password("{PASSWORD}")
    owner.save()
"""
"""A demo is never on a server: there the same records are a workshop of one's own, whose owner signs in."""
PAGES = ("/", "/jobs/", "/jobs/log/", "/customers/", "/orders/", "/past/", "/past/near/", "/past/numbers/", "/shop/")
PARTS = ("/parts/", "/parts/pairings/", "/parts/goes-in/", "/parts/goes-in/cases/", "/parts/holders/", "/search/?q=a")
OWN = ("/account/", "/people/", "/admin/", "/shop/rules/", "/parts/holders/prints/")


def run(count=3, *, server=False):
    """Open the demo of the commit before this one, and with a higher `count` of the released and of the oldest one.

    Each is opened as it lies there, and once more from the backup that the earlier program made; `server` has them on
    PostgreSQL.
    """
    commits = earlier()[:count]
    if not commits:
        return Found(skipped="there is no history here to take an earlier program from")
    found = Found()
    for commit in commits:
        with own_database() if server else contextlib.nullcontext("") as address:
            if server and not address:
                return Found(skipped="there is no PostgreSQL server here whose user postgres may be used")
            _open_demo_of(commit, found, {"DIALSIDE_DATABASE": address} if server else {})
    return found


def earlier():
    """The commit before this one, the first edition, and the oldest whose demo is opened; without a history none."""
    before = _git("rev-parse", "--verify", "--quiet", "HEAD~1")
    moved = _git("log", "--format=%H", "--no-renames", "--diff-filter=A", "--", ROOMS)
    released = _git("rev-parse", "--verify", "--quiet", f"{moved}~1") if moved else ""
    both = [_git("log", "--format=%H", "--diff-filter=A", "--", path) for path in OLDEST]
    oldest = ""
    if all(both):
        first, second = both
        oldest = first if _git("merge-base", first, second) == second else second
    return list(dict.fromkeys(filter(None, (before, released, oldest))))


def _git(*words):
    try:
        done = subprocess.run(["git", *words], cwd=ROOT, capture_output=True, text=True)
    except FileNotFoundError:
        return ""
    return done.stdout.strip() if done.returncode == 0 else ""


def _open_demo_of(commit, found, more):
    tree = Path(tempfile.mkdtemp(prefix="dialside-soak-earlier-"))
    packed = subprocess.run(["git", "archive", commit], cwd=ROOT, capture_output=True, check=True).stdout
    subprocess.run(["tar", "-x", "-C", tree], input=packed, check=True)
    try:
        with Place(**(more or {"DIALSIDE_DEMO": "1"})) as place:
            backup = _made_by(tree, place)
            before = _rows(place, more)
            for how in ("as it lies there", "from its backup")[: 2 if backup else 1]:
                if how == "from its backup":
                    place.cookies.clear()
                    done = place.manage("restore", backup)
                    found.faults += [f"{commit[:7]}, {how}: {done.stderr[-300:]}"] if done.returncode else []
                pages, wrong = _every_page(place, more)
                after = _rows(place, more)
                lost = [
                    f"{name}: {n} rows, now {after.get(name, 0)}"
                    for name, n in before.items()
                    if after.get(name, 0) < n
                ]
                found.faults += [f"{commit[:7]}, {how}: {fault}" for fault in wrong + lost]
                rows = sum(before.values())
                told = f"{pages} pages, {len(before)} tables with {rows} rows, {len(after)} tables now"
                found.figures.append((f"demo of {commit[:7]}, {how}", told))
    finally:
        shutil.rmtree(tree)


def _made_by(tree, place):
    """Have the earlier program make its demo and a backup of it; returns the backup's file.

    The first edition had none of its own on PostgreSQL.
    """
    for words in (["migrate", "--verbosity", "0"], ["shell", "-c", FILL], ["backup"]):
        done = manage(place.folder, *words, root=tree, **place.more)
        if "back it up with pg_dump" in done.stderr:
            return ""
        if done.returncode:
            raise RuntimeError(f"the earlier program could not {words[0]}: {done.stderr[-500:]}")
    return done.stdout.split(" holds ")[0].splitlines()[-1]


def _asked(place, more):
    """A function that asks the database of the demo."""
    if not more:
        return sqlite(place.folder / "demo" / "dialside.sqlite3")
    import psycopg

    def ask(words):
        with psycopg.connect(more["DIALSIDE_DATABASE"]) as opened:
            return opened.execute(words).fetchall()

    return ask


def _rows(place, more):
    """Rows of each table that holds what somebody wrote, sessions and what is made anew left out."""
    ask = _asked(place, more)
    listed = (
        "SELECT table_name FROM information_schema.tables WHERE table_schema = 'public'"
        if more
        else "SELECT name FROM sqlite_master WHERE type = 'table'"
    )
    names = [name for (name,) in ask(listed) if name.startswith(("jobs_", "parts_", "auth_")) and "_past" not in name]
    made_anew = ("jobs_toremember", "jobs_stalerecord", "auth_permission")
    return {name: ask(f'SELECT count(*) FROM "{name}"')[0][0] for name in names if not name.startswith(made_anew)}


def _every_page(place, more):
    """How many pages answered, and those that did not answer 200: of the navigation, and one of each record."""
    port = place.start()
    visitor, wrong, ask = place.visitor(port), [], _asked(place, more)
    jobs = [f"/jobs/{number}/" for (number,) in ask("SELECT number FROM jobs_job")]
    pairings = [f"/parts/pairings/{key}/" for (key,) in ask("SELECT id FROM parts_pairing")]
    pages = [*PAGES, *PARTS, *OWN, *jobs, *pairings]
    for page in pages:
        status, led, _ = visitor.get(page)
        if status != 200:
            wrong.append(f"{page} answered {status} {led}")
    visitor.close()
    place.end(port, signal.SIGINT)
    return len(pages), wrong
