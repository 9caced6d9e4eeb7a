"""What the workshop says of troubles from outside: disk, folder, database, clock; and what it leaves in its log."""

import errno
import logging
import os
import shutil
import sqlite3
import subprocess
import sys
import time
from contextlib import closing
from datetime import UTC, datetime, timedelta

import pytest
from django.conf import settings
from django.core.files.base import ContentFile
from django.core.files.storage import default_storage
from django.db import DatabaseError, OperationalError

import manage
from jobs.models import Photo
from tests.factories import JobFactory, PairingFactory, UserFactory
from tests.ready import put_ready_database
from tests.soak.place import free_port
from workshop.log import Impersonal, LogFile
from workshop.outside_errors import sentence_for
from workshop.safekeeping import backup, daily, doctor, orphan_files


@pytest.mark.parametrize(
    ("error", "words"),
    [
        (OSError(errno.ENOSPC, "No space left on device"), "The disk is full"),
        (OSError(errno.EROFS, "Read-only file system"), "is read-only"),
        (OperationalError("database or disk is full"), "The disk is full"),
        (OperationalError("attempt to write a readonly database"), "is read-only"),
        (sqlite3.DatabaseError("database disk image is malformed"), "The database is damaged"),
        (DatabaseError("file is not a database"), "The database is damaged"),
        (OperationalError("database is locked"), "keeps the database busy"),
        (OperationalError("connection to server failed"), "database server does not answer"),
        (OperationalError("no such table: jobs_job"), ""),
        (ValueError("disk is full"), ""),
        (OSError(errno.ENOENT, "No such file"), ""),
    ],
)
def test_a_trouble_from_outside_has_a_sentence_and_a_fault_of_the_program_none(error, words):
    found = sentence_for(error)
    assert words in found
    assert bool(found) is bool(words)


def test_a_full_disk_answers_a_page_that_keeps_what_was_saved(owner_client, monkeypatch):
    def full(*args, **kwargs):
        raise OperationalError("database or disk is full")

    monkeypatch.setattr("parts.library.forms.CaseFamilyForm.save", full)
    response = owner_client.post("/parts/case-families/add/", {"name": "Marsh 30"})
    assert (response.status_code, "The disk is full. Free some space" in response.text) == (503, True)
    assert "Traceback" not in response.text


def test_a_photo_whose_file_is_gone_is_not_found(owner_client):
    photo = Photo.objects.create(
        job=JobFactory(), file="photos/gone.jpg", thumbnail="photos/gone-small.jpg", by=UserFactory()
    )
    for small in ("", "small/"):
        assert owner_client.get(f"/jobs/{photo.job.number}/photos/{photo.pk}/{small}").status_code == 404
    assert owner_client.get(f"/jobs/{photo.job.number}/").status_code == 200


def an_old_file(name):
    default_storage.save(name, ContentFile(b"x"))
    path = settings.MEDIA_ROOT / name
    os.utime(path, (time.time() - 2 * orphan_files.YOUNG_S,) * 2)
    return path


@pytest.mark.django_db
def test_the_sweep_moves_aside_what_no_record_names(settings, tmp_path):
    settings.DIALSIDE_FOLDER, settings.MEDIA_ROOT = tmp_path, tmp_path / "files"
    for name in ("photos/named.jpg", "photos/named-small.jpg", "photos/loose.jpg"):
        an_old_file(name)
    default_storage.save("photos/young.jpg", ContentFile(b"x"))
    Photo.objects.create(
        job=JobFactory(), file="photos/named.jpg", thumbnail="photos/named-small.jpg", by=UserFactory()
    )
    assert (orphan_files.orphans(), orphan_files.missing_files()) == (["photos/loose.jpg"], [])
    assert orphan_files.sweep() == 1
    (aside,) = tmp_path.glob("files-without-record-*/photos/*")
    assert aside.name == "loose.jpg"
    assert sorted(path.name for path in (tmp_path / "files/photos").iterdir()) == [
        "named-small.jpg",
        "named.jpg",
        "young.jpg",
    ]
    (tmp_path / "files/photos/named.jpg").unlink()
    assert orphan_files.missing_files() == [("photos/named.jpg", "photo")]


def test_the_log_tells_where_but_not_what_was_typed():
    record = logging.LogRecord(
        "django.request", logging.ERROR, "", 0, "Internal Server Error: /search/?q=Ms Amber", (), None
    )
    try:
        raise ValueError("Ms Amber, 12 Mill Lane")
    except ValueError:
        record.exc_info = sys.exc_info()
    record.status_code = 500
    told = Impersonal().format(record)
    assert "ValueError" in told
    assert "test_outside_errors.py" in told
    assert "ERROR django.request 500" in told
    assert "Amber" not in told


def test_the_log_holds_the_workshops_own_words():
    record = logging.LogRecord(
        "workshop.safekeeping.backup", logging.ERROR, "", 0, "The backup was not made: %s", ("full",), None
    )
    assert Impersonal().format(record).endswith("ERROR workshop.safekeeping.backup The backup was not made: full")


def test_a_log_that_cannot_be_written_fills_no_terminal(capsys):
    LogFile("/dev/full").emit(logging.makeLogRecord({"name": "django.request", "msg": "a fault"}))
    assert capsys.readouterr() == ("", "")


@pytest.mark.django_db
def test_the_doctor_finds_the_clock_set_back_and_files_that_are_gone(settings, tmp_path):
    settings.DIALSIDE_FOLDER, settings.MEDIA_ROOT = tmp_path, tmp_path / "files"
    JobFactory()
    well = {found.what: found for found in doctor.examine()}
    assert {well[what].state for what in ("Python", "Packages", "Papers as PDF", "Data folder", "Clock", "Files")} == {
        "well"
    }
    assert (well["Backups"].state, "make backup" in well["Backups"].says) == ("mind", True)
    pairing = PairingFactory()
    type(pairing).objects.update(created=datetime.now(UTC) + timedelta(hours=3))
    Photo.objects.create(job=JobFactory(), file="photos/gone.jpg", thumbnail="photos/gone-small.jpg", by=UserFactory())
    ill = {found.what: found for found in doctor.examine()}
    assert (ill["Clock"].state, "Set this machine's clock" in ill["Clock"].says) == ("mend", True)
    assert (ill["Files"].state, "2 files are missing, the first: photos/gone-small.jpg" in ill["Files"].says) == (
        "mend",
        True,
    )


@pytest.mark.django_db
def test_the_doctor_goes_on_after_an_examination_that_fails(monkeypatch):
    def broken():
        raise OSError(errno.ENOSPC, "No space left on device")

    monkeypatch.setattr(doctor, "EXAMINATIONS", (("One", broken), ("Two", lambda: ("well", "fine"))))
    found = list(doctor.examine())
    assert [(one.state, one.what) for one in found] == [("mend", "One"), ("well", "Two")]
    assert found[0].says.startswith("The disk is full")


@pytest.mark.parametrize(
    ("error", "told"),
    [
        (
            OSError(errno.EROFS, "Read-only file system"),
            "The data folder is read-only. Make it writable.",
        ),
        (OSError(errno.ENOTDIR, "Not a directory"), "Not a directory."),
    ],
)
def test_the_doctor_tells_once_that_the_data_folder_cannot_be_written(settings, tmp_path, monkeypatch, error, told):
    def broken(*_):
        raise error

    settings.DIALSIDE_FOLDER = tmp_path
    looks = (("Folder", doctor._folder), ("Two", broken), ("Three", lambda: ("well", "fine")))
    monkeypatch.setattr(doctor, "EXAMINATIONS", looks)
    monkeypatch.setattr("pathlib.Path.write_text", broken)
    assert [(one.state, one.says) for one in doctor.examine()] == [
        ("mend", f"{tmp_path}: {told}"),
        ("mind", "Not checked: put the data folder right first."),
        ("well", "fine"),
    ]


def test_a_backup_of_the_future_does_not_hold_back_todays(settings, tmp_path, monkeypatch):
    settings.DIALSIDE_FOLDER = tmp_path
    (tmp_path / "backups").mkdir()
    ahead = tmp_path / "backups" / "dialside-20991231-000000.zip"
    ahead.write_bytes(b"x")
    os.utime(ahead, (time.time() + 1e6,) * 2)
    monkeypatch.setattr(backup, "make_backup", lambda: "made")
    monkeypatch.setattr(orphan_files, "sweep", lambda: 0)
    assert daily.run_when_due() == "made"


def served(folder, *command):
    """A command of the program on a data folder, as a person would start it."""
    environment = os.environ | {
        "DIALSIDE_DATA": str(folder),
        "DIALSIDE_DEMO": "",
        "DIALSIDE_DATABASE": "",
        "DJANGO_SETTINGS_MODULE": "workshop.settings",
    }
    return subprocess.run(
        [sys.executable, "manage.py", *command],
        cwd=settings.BASE_DIR,
        env=environment,
        capture_output=True,
        text=True,
        timeout=90,
    )


READY = ("shell", "-v", "0", "-c", "from workshop.safekeeping import safe_migrate; safe_migrate.bring_up_to_date()")


@pytest.fixture(scope="module")
def workshop_folder(tmp_path_factory):
    """A workshop that was brought up to date once."""
    folder = tmp_path_factory.mktemp("workshop")
    put_ready_database(database(folder))
    done = served(folder, *READY)
    assert done.returncode == 0, done.stderr
    return folder


@pytest.fixture
def own(workshop_folder, tmp_path):
    shutil.copytree(workshop_folder, tmp_path / "own")
    return tmp_path / "own"


def database(folder):
    return folder / "workshop" / "dialside.sqlite3"


def refusal(folder):
    done = served(folder, "serve", "--port", str(free_port()))
    assert done.returncode == 1
    assert "Traceback" not in done.stderr
    return done.stderr


@pytest.mark.long
def test_a_damaged_database_is_told_with_the_way_back(own):
    (own / "workshop" / "backups").mkdir()
    (own / "workshop" / "backups" / "dialside-20261101-000000.zip").write_bytes(b"x")
    for part in own.glob("workshop/dialside.sqlite3*"):
        part.unlink()
    database(own).write_bytes(b"this is no database " * 300)
    told = refusal(own)
    assert "Dialside cannot start. The database is damaged." in told
    assert "make restore FILE=" in told
    examined = served(own, "doctor")
    assert (examined.returncode, "REPAIR Database" in examined.stdout) == (1, True)


@pytest.mark.long
@pytest.mark.parametrize("left", [None, b""])
def test_a_missing_or_empty_database_beside_backups_begins_no_empty_workshop(own, left):
    (own / "workshop" / "backups").mkdir()
    (own / "workshop" / "backups" / "dialside-20261101-000000.zip").write_bytes(b"x")
    for part in own.glob("workshop/dialside.sqlite3*"):
        part.unlink()
    if left is not None:
        database(own).write_bytes(left)
    told = refusal(own)
    assert "There is no database in" in told
    assert "make restore FILE=" in told


@pytest.mark.long
def test_a_newer_database_is_refused_and_left_alone(own):
    with closing(sqlite3.connect(database(own))) as opened:
        opened.execute(
            "INSERT INTO django_migrations (app, name, applied) VALUES ('jobs', '0999_future', '2027-01-01')"
        )
        opened.commit()
    assert "was written by a newer Dialside (jobs 0999_future). Update the program" in refusal(own)


@pytest.mark.long
def test_an_update_that_fails_leaves_the_database_as_it_was(own):
    """The steps of a room are made to wait again while its tables stand in their way."""
    with closing(sqlite3.connect(database(own))) as opened:
        opened.execute("DELETE FROM django_migrations WHERE app = 'jobs'")
        opened.commit()
        before = sorted(opened.execute("SELECT name, sql FROM sqlite_master WHERE sql IS NOT NULL"))
    told = refusal(own)
    assert "The update of the database failed" in told
    assert "is as it was before" in told
    with closing(sqlite3.connect(database(own))) as opened:
        assert sorted(opened.execute("SELECT name, sql FROM sqlite_master WHERE sql IS NOT NULL")) == before
    assert len(list(own.glob("workshop/before-update-*.sqlite3"))) == 1


@pytest.mark.long
def test_a_database_that_cannot_be_opened_is_told(own):
    for part in own.glob("workshop/dialside.sqlite3*"):
        part.unlink()
    database(own).mkdir()
    assert "The database cannot be opened. Run make doctor" in refusal(own)
    told = served(own, "doctor").stdout
    assert f"REPAIR Database                 {database(own)} is not a file. Move it away." in told


def test_a_file_in_the_place_of_the_data_folder_is_told(tmp_path):
    (tmp_path / "data").touch()
    told = refusal(tmp_path / "data")
    assert told.startswith(f"Dialside cannot use its data folder: Not a directory, {tmp_path / 'data/workshop'}")
    assert "DIALSIDE_DATA" in told


def test_a_start_with_nothing_to_change_makes_no_copy(own):
    done = served(own, *READY)
    assert (done.returncode, list(own.glob("workshop/before-update-*"))) == (0, [])


@pytest.mark.parametrize(
    ("error", "sentence"),
    [
        (OSError(errno.EROFS, "Read-only file system"), "The data folder is read-only. Make it writable"),
        (OperationalError("attempt to write a readonly database"), "The data folder is read-only. Make it writable"),
        (OSError(errno.ENOSPC, "No space left on device"), "The disk is full. Free some space"),
    ],
)
def test_a_command_ends_in_a_sentence_too(monkeypatch, error, sentence):
    def broken(_arguments):
        raise error

    monkeypatch.setattr(manage, "execute_from_command_line", broken)
    with pytest.raises(SystemExit, match=f"Dialside stopped. {sentence}"):
        manage.main(["manage.py", "serve"])


def test_a_fault_of_a_command_itself_stays_one(monkeypatch):
    monkeypatch.setattr(manage, "execute_from_command_line", lambda _arguments: {}["nothing"])
    with pytest.raises(KeyError):
        manage.main(["manage.py", "serve"])
