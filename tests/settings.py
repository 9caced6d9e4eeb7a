"""The settings of one's own workshop, with a data folder of its own and without the slow parts."""

import os
from pathlib import Path

os.environ["DIALSIDE_DATA"] = str(Path(__file__).resolve().parent.parent / "data" / "tests")
os.environ.pop("DIALSIDE_DEMO", None)
os.environ.pop("DIALSIDE_DEBUG", None)

from workshop.settings import *  # noqa: F403
from workshop.settings import DATABASES, DIALSIDE_FOLDER, STATIC_ROOT, STORAGES

PASSWORD_HASHERS = ["django.contrib.auth.hashers.MD5PasswordHasher"]
# No test waits for the disk but those of `tests/workshop/safekeeping/test_on_disk.py`.
STORAGES["default"] = {"BACKEND": "django.core.files.storage.FileSystemStorage"}
STORAGES["staticfiles"] = {"BACKEND": "django.contrib.staticfiles.storage.StaticFilesStorage"}
STATIC_ROOT.mkdir(exist_ok=True)

# A file, not memory: the browser's parallel requests then use connections of their own, as in use.
# Each run has a file of its own, so that two runs at the same time do not meet.
if DATABASES["default"]["ENGINE"].endswith("sqlite3"):
    DATABASES["default"]["OPTIONS"]["init_command"] = "PRAGMA journal_mode=WAL; PRAGMA synchronous=OFF;"
    DATABASES["default"]["TEST"] = {"NAME": DIALSIDE_FOLDER / f"tests-{os.getpid()}.sqlite3"}
