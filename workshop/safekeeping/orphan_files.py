"""Files that no record names, and records whose file is gone.

A photo or paper is written before its row, so a power cut can leave a file without a row; such a file is moved aside,
not deleted. A row without its file means that somebody took the file away.
"""

import shutil
import time
from datetime import UTC, datetime
from pathlib import Path

from django.apps import apps
from django.conf import settings
from django.core.files.storage import FileSystemStorage, default_storage
from django.db.models import FileField

YOUNG_S = 3600
"""A file younger than this may be waiting for its row."""


def named_files():
    """Every file that a record names, with the record's kind in words."""
    names = {}
    for model in apps.get_models():
        for field in (field for field in model._meta.fields if isinstance(field, FileField)):
            for name in model._base_manager.exclude(**{field.name: ""}).values_list(field.name, flat=True).iterator():
                if name:
                    names[name] = str(model._meta.verbose_name)
    return names


def orphans(now=None):
    """Files in the folder that no record names and that are older than an hour, as paths relative to it."""
    if not isinstance(default_storage, FileSystemStorage):
        return []
    root, now = Path(settings.MEDIA_ROOT), now or time.time()
    lying = [path for path in root.rglob("*") if _is_old(path, now)]
    named = named_files()
    return sorted(name for path in lying if (name := path.relative_to(root).as_posix()) not in named)


def _is_old(path, now):
    try:
        return path.is_file() and now - path.stat().st_mtime > YOUNG_S
    except FileNotFoundError:
        return False  # a part that got its name in the meantime


def missing_files():
    """(file, kind of record) for each record whose file is gone."""
    return sorted((name, kind) for name, kind in named_files().items() if not default_storage.exists(name))


def sweep():
    """Move orphans to a folder of this day beside the files; returns how many."""
    strays = orphans()
    aside = settings.DIALSIDE_FOLDER / f"files-without-record-{datetime.now(UTC):%Y%m%d}"
    for name in strays:
        target = aside / name
        target.parent.mkdir(parents=True, exist_ok=True)
        shutil.move(Path(settings.MEDIA_ROOT) / name, target)
    return len(strays)
