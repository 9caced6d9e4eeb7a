"""An empty workshop's database, brought up to date once and copied for every test that starts from one.

Taking it through all steps of the update takes many seconds; what the steps do has tests of its own.
"""

import hashlib
import os
import shutil
import sqlite3
import subprocess
import sys
import tempfile
from contextlib import closing
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
STEPS = sorted(ROOT.glob("*/migrations/*.py"))


def put_ready_database(target):
    """Put such a database where a workshop expects its own: folder/workshop/dialside.sqlite3."""
    target = Path(target)
    target.parent.mkdir(parents=True, exist_ok=True)
    shutil.copyfile(_ready(), target)


def _ready():
    """The file that is copied; its name changes with the steps, so that an old one is never taken."""
    steps = hashlib.sha256(b"".join(step.read_bytes() for step in [*STEPS, ROOT / "constraints.txt"])).hexdigest()[:16]
    ready = ROOT / "data" / "tests" / f"ready-{steps}.sqlite3"
    if not ready.exists():
        _make(ready)
    return ready


def _make(ready):
    ready.parent.mkdir(parents=True, exist_ok=True)
    kept = {name: value for name, value in os.environ.items() if not name.startswith(("DIALSIDE_", "DJANGO_"))}
    with tempfile.TemporaryDirectory() as folder:
        call = [sys.executable, "manage.py", "migrate", "--verbosity", "0"]
        subprocess.run(call, cwd=ROOT, env=kept | {"DIALSIDE_DATA": folder}, check=True)
        whole = Path(tempfile.mkstemp(dir=ready.parent, suffix=".sqlite3")[1])
        own = Path(folder) / "workshop" / "dialside.sqlite3"
        with closing(sqlite3.connect(own)) as source, closing(sqlite3.connect(whole)) as target:
            source.backup(target)
    whole.replace(ready)
    for old in set(ready.parent.glob("ready-*.sqlite3")) - {ready}:
        old.unlink(missing_ok=True)
