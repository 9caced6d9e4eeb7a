"""The settings of one's own workshop, with a data folder of its own and without the slow parts."""

import os
from pathlib import Path

os.environ["DIALSIDE_DATA"] = str(Path(__file__).resolve().parent.parent / "data" / "tests")
os.environ.pop("DIALSIDE_DEMO", None)
os.environ.pop("DIALSIDE_DEBUG", None)

from workshop.settings import *  # noqa: E402, F403

PASSWORD_HASHERS = ["django.contrib.auth.hashers.MD5PasswordHasher"]
STORAGES["staticfiles"] = {"BACKEND": "django.contrib.staticfiles.storage.StaticFilesStorage"}  # noqa: F405
