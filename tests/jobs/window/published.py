"""The demo's show window as it is published, with a canary wherever the workshop holds something personal."""

import io
from dataclasses import dataclass
from pathlib import Path
from unittest.mock import patch

from django.apps import apps
from django.conf import settings
from django.db import transaction
from django.test import override_settings
from PIL import Image

from jobs.demo.past_jobs import fill_past
from jobs.demo.people import open_shop
from jobs.demo.window import fill_window
from jobs.language.choices import CODES
from jobs.models import Photo, Shop, Window
from jobs.window.publishing import publish
from jobs.window.writing import write_zip
from parts.demo import fill_workshop
from tests.browser.long_words import is_written

CANARY = "Zarathwaite"
_SHOWN = {"CaseFamily": {"name"}, "Movement": {"name"}}
"""What the site shows of the library: the names of cases and movements."""
_OF_THE_SHOP = {"Shop", "Window", "WindowEntry", "WindowHolder", "WindowPhoto"}


@dataclass(frozen=True, slots=True)
class Published:
    """The folder and the ZIP, and how the folder lay before and after it was written once more."""

    folder: Path
    zipped: bytes
    before: dict[str, tuple[bytes, int]]
    after: dict[str, tuple[bytes, int]]


def published(folder):
    """Publish the demo twice in five languages, and undo all of it in the database."""
    places = override_settings(DIALSIDE_FOLDER=folder, MEDIA_ROOT=folder / "files")
    with places, patch("jobs.window.writing.sync"), transaction.atomic():
        for fill in (open_shop, fill_workshop, fill_past, fill_window):
            fill()
        own = Shop.current().language
        Window.objects.update(languages=[code for code in CODES if code != own])
        put_canaries()
        publish()
        site, zipped = folder / "window", io.BytesIO()
        before = as_it_lies(site)
        assert publish().total == 0
        write_zip(site, zipped)
        transaction.set_rollback(True)
    return Published(site, zipped.getvalue(), before, as_it_lies(site))


def as_it_lies(folder):
    """(bytes, time of the last change) of every file by its path."""
    files = (path for path in sorted(folder.rglob("*")) if path.is_file())
    return {path.relative_to(folder).as_posix(): (path.read_bytes(), path.stat().st_mtime_ns) for path in files}


def put_canaries():
    """The canary in every text that somebody typed, but for those of the site, and within the photos' files."""
    for model in [*apps.get_app_config("jobs").get_models(), *apps.get_app_config("parts").get_models()]:
        if model.__name__ not in _OF_THE_SHOP:
            _put(model)
    for photo in Photo.objects.all():
        exif, out = Image.Exif(), io.BytesIO()
        exif[0x9286], exif[0x013B] = CANARY, CANARY
        with photo.file.open("rb") as opened, Image.open(opened) as picture:
            picture.save(out, "JPEG", exif=exif, comment=CANARY)
        (Path(settings.MEDIA_ROOT) / photo.file.name).write_bytes(out.getvalue())


def _put(model):
    shown = _SHOWN.get(model.__name__, set())
    fields = [field for field in model._meta.concrete_fields if is_written(field) and field.name not in shown]
    for row in model._base_manager.all() if fields else ():
        words = {field.name: f"{CANARY} {row.pk}"[: field.max_length] for field in fields}
        model._base_manager.filter(pk=row.pk).update(**words)
