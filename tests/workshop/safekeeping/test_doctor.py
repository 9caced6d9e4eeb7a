"""What the doctor says of packages, the data folder, the database's version, loose files and the clock."""

import os
import subprocess
import sys
from collections import namedtuple
from datetime import UTC, datetime, timedelta

import django
import pytest

from parts.models import Pairing
from tests.factories import PairingFactory
from tests.ready import ROOT
from workshop.safekeeping import doctor, orphan_files, safe_migrate


@pytest.mark.parametrize(("folder", "state"), [("vlgothic", "well"), ("dejavu", "mind")])
def test_papers_in_japanese_need_a_font(tmp_path, folder, state):
    """In a process of its own, whose machine has the fonts of one folder only."""
    config = tmp_path / "fonts.conf"
    folders = f"<dir>/usr/share/fonts/truetype/{folder}</dir><cachedir>{tmp_path}</cachedir>"
    config.write_text(f'<?xml version="1.0"?><fontconfig>{folders}</fontconfig>')
    look = "import django; django.setup(); from workshop.safekeeping import doctor; print(doctor._papers()[0])"
    env = os.environ | {"FONTCONFIG_FILE": str(config), "DJANGO_SETTINGS_MODULE": "tests.settings"}
    ran = subprocess.run([sys.executable, "-c", look], env=env, cwd=ROOT, capture_output=True, text=True, check=True)
    assert ran.stdout.split()[-1] == state


def test_everything_is_looked_at_in_order():
    assert [what for what, _ in doctor.EXAMINATIONS] == [
        "Python",
        "Packages",
        "Papers as PDF",
        "Data folder",
        "Database",
        "Version of the database",
        "Files",
        "Backups",
        "Clock",
    ]
    assert all(callable(look) for _, look in doctor.EXAMINATIONS)


def test_a_package_of_another_version_is_named_and_one_that_is_not_installed_is_not(settings, tmp_path):
    settings.BASE_DIR = tmp_path
    pins = tmp_path / "constraints.txt"
    pins.write_text(f"# pins\nDjango=={django.__version__}\nnot-there-at-all==1.0\n")
    assert doctor._packages() == ("well", "1 packages as pinned")
    pins.write_text("Django==0.9\nnot-there-at-all==1.0\n")
    state, told = doctor._packages()
    assert state == "mend"
    assert f"Django {django.__version__} instead of 0.9." in told
    assert "not-there" not in told


@pytest.mark.parametrize(("megabytes", "state"), [(499, "mind"), (500, "well"), (501, "well")])
def test_little_room_in_the_data_folder_is_told(settings, tmp_path, monkeypatch, megabytes, state):
    settings.DIALSIDE_FOLDER = tmp_path
    usage = namedtuple("usage", "free")(megabytes * 1_000_000)
    monkeypatch.setattr(doctor.shutil, "disk_usage", lambda _place: usage)
    assert doctor._folder()[0] == state
    assert list(tmp_path.iterdir()) == []


@pytest.mark.parametrize(
    ("migrations", "state", "words"),
    [
        (([], [], True), "well", "matches the program"),
        ((["one", "two"], [], True), "mind", "2 database changes are due"),
        ((["one", "two"], [], False), "well", "matches the program"),
        (([], ["parts 0099_later"], True), "mend", "newer than the program (parts 0099_later)"),
    ],
)
def test_the_version_of_the_database(monkeypatch, migrations, state, words):
    monkeypatch.setattr(safe_migrate, "migrations", lambda: migrations)
    found = doctor._version()
    assert found[0] == state
    assert words in found[1]


@pytest.mark.django_db
def test_a_file_without_a_record_is_told_once_it_is_an_hour_old(settings, tmp_path):
    settings.MEDIA_ROOT = tmp_path
    (tmp_path / "photos").mkdir()
    loose = tmp_path / "photos" / "loose.jpg"
    loose.write_bytes(b"x")
    at = loose.stat().st_mtime
    assert orphan_files.orphans(now=at + orphan_files.YOUNG_S) == []
    assert orphan_files.orphans(now=at + orphan_files.YOUNG_S + 1) == ["photos/loose.jpg"]
    assert doctor._files() == ("well", "every record has its file, and every file its record")


@pytest.mark.django_db
@pytest.mark.parametrize(("minutes", "state"), [(-60, "well"), (9, "well"), (11, "mend")])
def test_an_entry_more_than_ten_minutes_ahead_means_a_clock_set_back(minutes, state):
    PairingFactory()
    Pairing.objects.update(created=datetime.now(UTC) + timedelta(minutes=minutes))
    assert doctor._clock()[0] == state


def test_a_folder_in_which_nothing_began_needs_no_repair(tmp_path):
    env = {name: value for name, value in os.environ.items() if not name.startswith(("DIALSIDE_", "DJANGO_"))}
    call = [sys.executable, "manage.py", "doctor"]
    told = subprocess.run(call, cwd=ROOT, env=env | {"DIALSIDE_DATA": str(tmp_path)}, capture_output=True, text=True)
    assert "No database yet" in told.stdout
    assert "REPAIR" not in told.stdout
