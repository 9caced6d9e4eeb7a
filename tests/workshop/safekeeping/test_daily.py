"""The daily backup goes on whatever goes wrong, and says so until one is made."""

import os
import sqlite3
import time
from datetime import UTC, datetime

import pytest

from workshop.safekeeping import backup, backup_failure, daily, doctor, orphan_files, workplace

REFUSALS = [
    (sqlite3.OperationalError("database or disk is full"), "The disk is full"),
    (ValueError("ZIP does not support timestamps before 1980"), "ValueError; the details are in dialside.log."),
    (MemoryError(), "MemoryError"),
    (backup.BackupError("The backup was not made: No space left on device (x)."), "No space left on device"),
]


@pytest.fixture
def home(settings, tmp_path, monkeypatch):
    settings.DIALSIDE_FOLDER = tmp_path
    settings.MEDIA_ROOT = tmp_path / "files"
    settings.MEDIA_ROOT.mkdir()
    on_sqlite = {"ENGINE": "django.db.backends.sqlite3", "NAME": tmp_path / "dialside.sqlite3"}
    for name, value in on_sqlite.items():
        monkeypatch.setitem(settings.DATABASES["default"], name, value)
    with sqlite3.connect(tmp_path / "dialside.sqlite3") as opened:
        opened.execute("CREATE TABLE jobs_job (id integer)")
    yield tmp_path
    backup_failure.clear()


def failing(monkeypatch, error):
    def fails():
        raise error

    monkeypatch.setattr(backup, "make_backup", fails)


@pytest.mark.parametrize(("error", "words"), REFUSALS)
def test_whatever_stops_a_backup_is_told_since_when_and_the_next_look_tries_again(home, monkeypatch, error, words):
    with monkeypatch.context() as broken:
        failing(broken, error)
        assert daily.run_when_due() is None
        first = backup_failure.current()
        assert words in first.reason
        assert daily.run_when_due() is None
        assert backup_failure.current().since == first.since
        state, told = doctor._backups()
        assert (state, words in told, f"{first.began:%Y-%m-%d %H:%M}" in told) == ("mend", True, True)
    made = daily.run_when_due()
    assert made.exists()
    assert backup_failure.current() is None
    assert doctor._backups()[0] == "well"


@pytest.mark.django_db
def test_every_page_tells_it_to_who_is_signed_in(home, client, owner_client, monkeypatch):
    failing(monkeypatch, sqlite3.OperationalError("database or disk is full"))
    daily.run_when_due()
    for page in ("/", "/parts/", "/shop/"):
        text = owner_client.get(page).text
        assert "No backup could be made since" in text
        assert "The disk is full." in text
    owner_client.logout()
    assert "No backup could be made" not in owner_client.get("/sign-in/").text


def test_the_thread_survives_what_no_try_foresaw(home, monkeypatch):
    looks = []

    def breaks():
        looks.append(1)
        raise RuntimeError("unforeseen")

    monkeypatch.setattr(daily, "run_when_due", breaks)
    monkeypatch.setattr(daily, "_LOOK_S", 0.01)
    stop = daily.start()
    until = time.time() + 10
    while len(looks) < 3 and time.time() < until:
        time.sleep(0.01)
    stop.set()
    assert len(looks) >= 3


def test_a_sweep_that_fails_is_no_failed_backup(home, monkeypatch):
    def fails():
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(orphan_files, "sweep", fails)
    assert daily.run_when_due().exists()
    assert backup_failure.current() is None


def test_a_photo_dated_before_1980_goes_into_the_backup(home):
    old = home / "files" / "old.jpg"
    old.write_bytes(b"a photo")
    os.utime(old, (0, 0))
    assert "files/old.jpg" in backup.check_backup(backup.make_backup())["sums"]


def test_a_clock_set_back_deletes_neither_the_backup_just_made_nor_those_after_it(home):
    place = home / "backups"
    place.mkdir()
    later = [place / f"dialside-2099{month:02d}01-120000.zip" for month in range(1, 13)]
    later += [place / f"dialside-209901{day:02d}-120000.zip" for day in range(2, 10)]
    for path in later:
        path.touch()
    first = backup.make_backup()
    backup._rotate(first, now=datetime.now(UTC))
    assert [path for path in [first, *later] if not path.exists()] == []
    second = place / first.name.replace(first.name[9:17], "20000101")
    second.write_bytes(first.read_bytes())
    backup._rotate(second)
    assert second.exists()
    assert first.exists()
    assert doctor._backups()[0] == "mind"
    assert "the clock was set back" in doctor._backups()[1]


def test_of_two_processes_one_makes_it(home):
    with workplace.turn("daily-backup") as mine:
        assert mine
        assert daily.run_when_due() is None
    assert daily.run_when_due() is not None
