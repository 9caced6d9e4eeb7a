"""Backup and restore of a workshop in processes of its own."""

import os
import sqlite3
import subprocess
import sys
import zipfile
from contextlib import closing
from pathlib import Path

import pytest

from tests.ready import put_ready_database
from workshop.safekeeping.backup import BackupError, _rotate, check_backup

pytestmark = pytest.mark.long


def manage(folder, *words):
    env = os.environ | {
        "DIALSIDE_DATA": str(folder),
        "DIALSIDE_DEMO": "1",
        "DJANGO_SETTINGS_MODULE": "workshop.settings",
    }
    return subprocess.run([sys.executable, "manage.py", *words], env=env, capture_output=True, text=True)


@pytest.fixture(scope="module")
def home(tmp_path_factory):
    """A demo workshop with one file among its photos."""
    folder = tmp_path_factory.mktemp("home")
    put_ready_database(folder / "demo" / "dialside.sqlite3")
    assert manage(folder, "loaddemo").returncode == 0
    (folder / "demo" / "files" / "photos").mkdir(parents=True, exist_ok=True)
    (folder / "demo" / "files" / "photos" / "one.jpg").write_bytes(b"a photo")
    return folder


def backed_up(home):
    """A new backup's file."""
    made = manage(home, "backup")
    assert made.returncode == 0, made.stderr
    return made.stdout.split(" holds ")[0]


def database(home):
    return sqlite3.connect(home / "demo" / "dialside.sqlite3")


def jobs(home):
    with closing(database(home)) as opened:
        return opened.execute("SELECT number, wish FROM jobs_job ORDER BY id").fetchall()


def found(home, word):
    """The jobs that the word index holds for a word, once it is sound."""
    with closing(database(home)) as opened:
        opened.execute("INSERT INTO jobs_pasttext_index(jobs_pasttext_index) VALUES ('integrity-check')")
        wanted = "SELECT rowid FROM jobs_pasttext_index WHERE jobs_pasttext_index MATCH ? ORDER BY rowid"
        return [key for (key,) in opened.execute(wanted, (word,))]


def test_a_backup_is_restored_and_the_state_before_is_kept(home):
    file = backed_up(home)
    assert check_backup(file)["rows"]["jobs_job"] == 13
    before = jobs(home)
    with closing(database(home)) as opened:
        opened.execute("UPDATE jobs_job SET wish = 'gone'")
        opened.commit()
    (home / "demo" / "files" / "photos" / "one.jpg").unlink()
    restored = manage(home, "restore", file)
    assert restored.returncode == 0, restored.stderr
    assert jobs(home) == before
    assert found(home, "burr") == [1]
    assert (home / "demo" / "files" / "photos" / "one.jpg").read_bytes() == b"a photo"
    kept = restored.stdout.strip().rstrip(".").split(" is in ")[1]
    with closing(sqlite3.connect(f"{kept}/dialside.sqlite3")) as opened:
        assert opened.execute("SELECT DISTINCT wish FROM jobs_job").fetchall() == [("gone",)]


def test_a_backup_is_whole_while_others_write(home):
    busy = database(home)
    busy.execute("BEGIN IMMEDIATE")
    busy.execute("UPDATE jobs_job SET remarks = 'half way'")
    file = backed_up(home)
    busy.rollback()
    busy.close()
    assert check_backup(file)["rows"]["jobs_job"] == 13


NONE_OF_OURS = "spoiled.zip is not a Dialside backup, or it is damaged. Choose another one.\n"


@pytest.mark.parametrize(
    ("spoil", "words"),
    [
        (lambda path: path.write_bytes(b"hello"), NONE_OF_OURS),
        (lambda path: path.write_bytes(path.read_bytes()[:-400]), NONE_OF_OURS),
        (lambda path: path.unlink() or _add(path, "contents.json"), NONE_OF_OURS),
        (lambda path: _add(path, "files/extra.txt"), "files are missing or were added"),
    ],
)
def test_a_spoiled_backup_changes_nothing(home, spoil, words):
    file = backed_up(home)
    path = home / "spoiled.zip"
    path.write_bytes(Path(file).read_bytes())
    spoil(path)
    before = jobs(home)
    refused = manage(home, "restore", str(path))
    assert refused.returncode == 1
    assert words in refused.stderr
    assert "Traceback" not in refused.stderr
    assert jobs(home) == before


def _add(path, name):
    with zipfile.ZipFile(path, "a") as archive:
        archive.writestr(name, "x")


def test_a_changed_file_in_a_backup_is_noticed(home, tmp_path):
    file = backed_up(home)
    other = tmp_path / "other.zip"
    with zipfile.ZipFile(file) as source, zipfile.ZipFile(other, "w") as target:
        for name in source.namelist():
            target.writestr(name, b"another photo" if name.endswith("one.jpg") else source.read(name))
    with pytest.raises(BackupError, match="one.jpg has changed"):
        check_backup(other)


def test_a_file_that_is_not_there_is_named(home):
    refused = manage(home, "restore", "/nowhere.zip")
    assert "No file /nowhere.zip" in refused.stderr


def test_the_newest_and_the_first_of_each_month_are_kept(settings, tmp_path):
    settings.DIALSIDE_FOLDER = tmp_path
    (tmp_path / "backups").mkdir()
    days = [f"2026{month:02d}{day:02d}" for month in (9, 10) for day in range(1, 29)]
    for day in days:
        (tmp_path / "backups" / f"dialside-{day}-120000.zip").touch()
    _rotate(tmp_path / "backups" / f"dialside-{days[-1]}-120000.zip")
    left = [path.name[9:17] for path in sorted((tmp_path / "backups").iterdir())]
    assert left == ["20260901", "20261001", *days[-14:]]
