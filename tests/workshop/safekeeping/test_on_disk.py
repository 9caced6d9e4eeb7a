"""What must be on the disk before it counts, what nobody else may read, and what a kill may leave behind."""

import fcntl
import itertools
import json
import os
import shutil
import signal
import sqlite3
import stat
import subprocess
import sys
import time
import zipfile
from pathlib import Path
from types import SimpleNamespace

import pytest
from django.core.files.base import ContentFile

from tests.workshop.safekeeping.test_daily import home  # noqa: F401
from workshop.safekeeping import backup, disk, doctor, restoring, sealing, workplace
from workshop.safekeeping.durable import DurableFiles
from workshop.safekeeping.filestore import FOLDER
from workshop.secret import secret_key

PHRASE = "seven brass keys"


@pytest.fixture
def synced(monkeypatch):
    """The places that were synced, in order."""
    places = []
    monkeypatch.setattr(os, "fsync", lambda opened: places.append(Path(f"/proc/self/fd/{opened}").readlink()))
    return places


def test_a_stored_file_is_on_the_disk_with_all_its_folders(synced, tmp_path):
    assert FOLDER == {"BACKEND": "workshop.safekeeping.durable.DurableFiles"}
    DurableFiles(location=tmp_path).save("photos/2026/a.jpg", ContentFile(b"x"))
    photos = tmp_path / "photos"
    assert synced[0] == photos / "2026" / "a.jpg"
    assert {*synced[1:]} == {photos / "2026", photos, tmp_path}


def test_a_backup_leaves_out_what_is_not_whole_yet_and_what_goes_while_it_is_packed(settings, tmp_path, monkeypatch):
    settings.DIALSIDE_FOLDER = tmp_path
    files, copy, packed = tmp_path / "files", tmp_path / "dialside.sqlite3", tmp_path / "packed.zip"
    files.mkdir()
    for path in (copy, files / "a.jpg", files / "b.jpg", files / "b.jpg.0f.part"):
        path.write_bytes(b"x")
    listed = backup._files(files)
    (files / "a.jpg").unlink()
    monkeypatch.setattr(backup, "_files", lambda root: listed)
    monkeypatch.setattr(backup, "own_database", lambda: SimpleNamespace(rows=lambda copy: {}))
    with packed.open("wb") as file:
        backup._pack(file, copy, files)
    with zipfile.ZipFile(packed) as archive:
        kept = archive.namelist()
        sums = json.loads(archive.read("contents.json"))["sums"]
    assert kept == ["dialside.sqlite3", "files/b.jpg", "contents.json"]
    assert sorted(sums) == ["dialside.sqlite3", "files/b.jpg"]


def test_the_key_is_on_the_disk_before_it_is_used(synced, tmp_path):
    secret_key(tmp_path / "workshop")
    assert [place.name.partition(".")[0] for place in synced] == ["secret-key", "workshop"]


@pytest.mark.parametrize("left", [b"", b"\xb1\xfe garbled"])
def test_an_empty_or_garbled_key_file_is_made_anew(tmp_path, left):
    (tmp_path / "secret-key").write_bytes(left)
    assert len(secret_key(tmp_path)) >= 50
    assert secret_key(tmp_path) == secret_key(tmp_path)


def test_a_backup_is_on_the_disk_before_an_old_one_goes(home, synced, monkeypatch):  # noqa: F811
    (home / "backups").mkdir()
    for day in range(1, 31):
        (home / "backups" / f"dialside-202609{day:02d}-120000.zip").touch()
    gone, unlink = [], Path.unlink

    def noted(path, **options):
        if path.name.startswith("dialside-"):
            gone.append((path.name, [place for place in synced if place.parent.name == "backups"]))
        unlink(path, **options)

    monkeypatch.setattr(Path, "unlink", noted)
    made = backup.make_backup()
    assert gone
    assert all(made in before for _, before in gone)


def test_what_others_may_read_is_closed_to_them(tmp_path):
    (tmp_path / "files").mkdir(mode=0o755)
    photo = tmp_path / "files" / "a.jpg"
    photo.touch(mode=0o644)
    (tmp_path / "out").symlink_to("/etc/hostname")
    tmp_path.chmod(0o755)
    assert disk.tighten(tmp_path) == 3
    assert [stat.S_IMODE(place.stat().st_mode) for place in (tmp_path, photo.parent, photo)] == [0o700, 0o700, 0o600]
    assert disk.tighten(tmp_path) == 0


KILLED = """
import os, sys, time, django
django.setup()
from workshop.safekeeping import backup
backup.check_backup = lambda packed: (print("packed", flush=True), time.sleep(60))
backup.make_backup()
"""


@pytest.mark.long
@pytest.mark.parametrize("encrypted", [False, True])
def test_what_a_killed_backup_leaves_is_private_and_gone_with_the_next(tmp_path, encrypted):
    own = tmp_path / "workshop"
    own.mkdir()
    with sqlite3.connect(own / "dialside.sqlite3") as opened:
        opened.execute("CREATE TABLE jobs_job (wish text)")
        opened.execute("INSERT INTO jobs_job VALUES ('the secret wish')")
    phrase = tmp_path / "phrase"
    phrase.write_text(PHRASE)
    env = os.environ | {"DIALSIDE_DATA": str(tmp_path), "DJANGO_SETTINGS_MODULE": "workshop.settings"}
    env["DIALSIDE_BACKUP_PASSPHRASE_FILE"] = str(phrase) if encrypted else ""
    working = subprocess.Popen([sys.executable, "-c", KILLED], env=env, stdout=subprocess.PIPE, text=True)
    assert working.stdout.readline() == "packed\n"
    (left,) = (own / "in-work").iterdir()
    assert stat.S_IMODE(left.parent.stat().st_mode) == 0o700
    names = {path.name for path in left.iterdir()}
    assert names == {"database.sqlite3", "backup.zip"}
    assert sealing.is_sealed(left / "backup.zip") is encrypted
    during = subprocess.run([sys.executable, "manage.py", "backup"], env=env, capture_output=True, text=True)
    assert during.returncode == 0, during.stderr
    assert left.exists(), "work that goes on is left alone"
    working.send_signal(signal.SIGKILL)
    working.wait()
    after = subprocess.run([sys.executable, "manage.py", "backup"], env=env, capture_output=True, text=True)
    assert after.returncode == 0, after.stderr
    assert not list((own / "in-work").iterdir())
    assert len(list((own / "backups").glob("dialside-*.zip"))) >= 1


def test_what_the_first_edition_left_beside_the_backups_is_swept(settings, tmp_path):
    settings.DIALSIDE_FOLDER = tmp_path
    (tmp_path / "backups" / "tmpabcd").mkdir(parents=True)
    (tmp_path / "backups" / "tmpabcd" / "database.sqlite3").touch()
    assert workplace.sweep() == 1
    assert not list((tmp_path / "backups").iterdir())


def test_work_that_goes_on_is_not_swept(settings, tmp_path):
    settings.DIALSIDE_FOLDER = tmp_path
    with workplace.workplace() as place, workplace.workplace() as inner:
        assert workplace.sweep() == 0
        assert place.exists()
        assert inner.exists()
    assert not list((tmp_path / "in-work").iterdir())
    left = tmp_path / "in-work" / "left"
    left.mkdir()
    held = os.open(left, os.O_RDONLY)
    fcntl.flock(held, fcntl.LOCK_EX)
    assert workplace.sweep() == 0
    os.close(held)
    assert workplace.sweep() == 1


def crafted(path, names=("database.sqlite3",), **contents):
    """A ZIP with these entries, and what its contents claim."""
    sums = {name: "0" * 64 for name in names if name != "contents.json"}
    with zipfile.ZipFile(path, "w") as archive:
        for name in names:
            archive.writestr(name, b"x")
        archive.writestr("contents.json", json.dumps({"sums": sums, "rows": {}} | contents))
    return path


@pytest.mark.parametrize(
    "names",
    [
        ("database.sqlite3", "files/../../escaped.txt"),
        ("database.sqlite3", "/etc/escaped"),
        ("database.sqlite3", "files/"),
        ("database.sqlite3", "files/a/../b"),
        ("database.sqlite3", "elsewhere/a"),
    ],
)
def test_a_crafted_entry_is_refused_in_a_sentence(home, names):  # noqa: F811
    with pytest.raises(backup.BackupError, match="is incomplete: files are missing or were added"):
        backup.check_backup(crafted(home / "crafted.zip", names))
    assert not (home / "escaped.txt").exists()


@pytest.mark.parametrize("contents", [{"sums": 5}, {"sums": ["a"]}, {"rows": None}, {"sums": {"database.sqlite3": 4}}])
def test_crafted_contents_are_refused_in_a_sentence(home, contents):  # noqa: F811
    with pytest.raises(backup.BackupError):
        backup.check_backup(crafted(home / "crafted.zip", **contents))


def test_an_encrypted_backup_without_its_passphrase_is_no_damage(home, settings):  # noqa: F811
    phrase = home / "phrase"
    phrase.write_text(PHRASE)
    settings.DIALSIDE_BACKUP_PASSPHRASE_FILE = str(phrase)
    backup.make_backup()
    assert doctor._backups()[0] == "well"
    settings.DIALSIDE_BACKUP_PASSPHRASE_FILE = ""
    state, told = doctor._backups()
    assert (state, "is encrypted; set DIALSIDE_BACKUP_PASSPHRASE_FILE" in told) == ("mind", True)


def test_a_fault_while_packing_is_not_hidden_by_the_encryption(home, settings, monkeypatch):  # noqa: F811
    phrase = home / "phrase"
    phrase.write_text(PHRASE)
    settings.DIALSIDE_BACKUP_PASSPHRASE_FILE = str(phrase)

    def full(*_):
        raise OSError(28, "No space left on device", "x")

    monkeypatch.setattr(backup, "_sum", full)
    began = time.monotonic()
    with pytest.raises(backup.BackupError, match="The disk is full"):
        backup.make_backup()
    assert time.monotonic() - began < 30
    assert not list((home / "in-work").iterdir())


def with_tables(home, wish="first"):  # noqa: F811
    with sqlite3.connect(home / "dialside.sqlite3") as opened:
        opened.executescript(
            "CREATE TABLE IF NOT EXISTS django_migrations (app text, name text);"
            "CREATE TABLE IF NOT EXISTS workshop_session (session_key text);"
            "INSERT INTO workshop_session VALUES ('a key'); CREATE TABLE IF NOT EXISTS wish (words text);"
        )
        opened.execute("DELETE FROM wish")
        opened.execute("INSERT INTO wish VALUES (?)", (wish,))


def rows(home, table):  # noqa: F811
    with sqlite3.connect(home / "dialside.sqlite3") as opened:
        return [row for (row,) in opened.execute(f"SELECT * FROM {table}")]


def test_a_restore_signs_everybody_out_and_is_taken_back(home):  # noqa: F811
    with_tables(home)
    made = backup.make_backup()
    with_tables(home, "second")
    restoring.restore(made)
    assert rows(home, "wish") == ["first"]
    assert rows(home, "workshop_session") == []
    restoring.undo()
    assert rows(home, "wish") == ["second"]
    restoring.undo()
    assert rows(home, "wish") == ["first"]


def test_a_backup_of_the_first_edition_signs_nobody_in_either(home):  # noqa: F811
    with_tables(home)
    with sqlite3.connect(home / "dialside.sqlite3") as opened:
        opened.execute("ALTER TABLE workshop_session RENAME TO django_session")
    made = backup.make_backup()
    with_tables(home, "second")
    restoring.restore(made)
    assert (rows(home, "wish"), rows(home, "django_session")) == (["first"], [])


class Cut(BaseException):
    """The power goes."""


def cut_at(monkeypatch, number):
    """The power goes when the numbered of the steps is to be done that move something."""
    steps = itertools.count()

    def before(step):
        def counted(*given):
            if next(steps) == number:
                raise Cut
            return step(*given)

        return counted

    monkeypatch.setattr(shutil, "move", before(shutil.move))
    monkeypatch.setattr(Path, "rename", before(Path.rename))


@pytest.mark.parametrize("act", ["restore", "undo"])
def test_a_restore_that_the_power_cuts_off_is_whole_after_the_next_start(home, monkeypatch, act):  # noqa: F811
    """Cut at each of its steps: the one state or the other, never a database with another one's photos."""
    (home / "files").mkdir(exist_ok=True)
    reading = []

    def put(words):
        """A reader keeps SQLite from moving what is written out of its log."""
        reading.append(sqlite3.connect(home / "dialside.sqlite3"))
        reading[-1].execute("PRAGMA journal_mode=WAL")
        reading[-1].execute("SELECT * FROM sqlite_master").fetchall()
        with_tables(home, words)
        assert (home / "dialside.sqlite3-wal").stat().st_size
        for photo in (home / "files").iterdir():
            photo.unlink()
        (home / "files" / f"{words}.jpg").write_text(words)

    put("first")
    made = backup.make_backup()
    put("second")
    if act == "undo":
        restoring.restore(made)
    was, becomes = ("second", "first") if act == "restore" else ("first", "second")
    for number in itertools.count():
        with monkeypatch.context() as power:
            cut_at(power, number)
            try:
                restoring.restore(made) if act == "restore" else restoring.undo()
            except Cut:
                pass
            else:
                break
        if restoring.cut_off_ones():
            assert "A restore was cut off" in doctor._folder()[1]
        restoring.go_on()
        assert not restoring.cut_off_ones()
        now = rows(home, "wish")
        assert now in ([was], [becomes]), f"at step {number}"
        assert [photo.stem for photo in (home / "files").iterdir()] == now, f"at step {number}"
        if now == [becomes]:
            restoring.undo()
            assert rows(home, "wish") == [was]
    assert number >= 5


def test_there_is_nothing_to_take_back_before_a_restore(home):  # noqa: F811
    with pytest.raises(backup.BackupError, match="No restore to take back"):
        restoring.undo()


def test_a_backup_of_a_newer_program_is_refused_before_anything_changes(home):  # noqa: F811
    with_tables(home)
    with sqlite3.connect(home / "dialside.sqlite3") as opened:
        opened.execute("INSERT INTO django_migrations VALUES ('jobs', '0999_future')")
    made = backup.make_backup()
    with_tables(home, "second")
    with pytest.raises(backup.BackupError, match="newer Dialside .jobs 0999_future"):
        restoring.restore(made)
    assert rows(home, "wish") == ["second"]
    assert not list(home.glob("before-restore-*"))
