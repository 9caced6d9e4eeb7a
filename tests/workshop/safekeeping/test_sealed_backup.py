"""Backups under a passphrase."""

import zipfile
from pathlib import Path

import pytest

from tests.workshop.safekeeping.test_backup import database, home, jobs, manage  # noqa: F401
from workshop.safekeeping import sealing
from workshop.safekeeping.sealing import SealError

pytestmark = pytest.mark.long

PHRASE = "seven brass keys"


@pytest.fixture
def phrase_file(tmp_path, settings, monkeypatch):
    """A file with the passphrase, set here and for processes."""
    path = tmp_path / "passphrase"
    path.write_text(f"{PHRASE}\n")
    settings.DIALSIDE_BACKUP_PASSPHRASE_FILE = str(path)
    monkeypatch.setenv("DIALSIDE_BACKUP_PASSPHRASE_FILE", str(path))
    return path


@pytest.fixture(scope="module")
def sealed(tmp_path_factory):
    """A sealed file of 3 MB, and what it holds; locking takes seconds by design."""
    folder = tmp_path_factory.mktemp("sealed")
    plain, target = folder / "plain.bin", folder / "sealed.zip"
    plain.write_bytes(bytes(range(256)) * 12_000)
    with target.open("wb") as opened:
        sealing.seal(lambda file: file.write(plain.read_bytes()), opened, PHRASE)
    return target, plain.read_bytes()


def test_a_backup_under_a_passphrase_is_restored(home, phrase_file):  # noqa: F811
    made = manage(home, "backup")
    assert made.returncode == 0, made.stderr
    file = Path(made.stdout.split(" holds ")[0])
    assert file.name.endswith("-encrypted.zip")
    assert b"SQLite format" not in file.read_bytes()
    assert b"Ottilie Reed" not in file.read_bytes()
    before = jobs(home)
    opened = database(home)
    opened.execute("UPDATE jobs_job SET wish = 'gone'")
    opened.commit()
    opened.close()
    phrase_file.write_text("seven brass locks")
    refused = manage(home, "restore", str(file))
    assert refused.returncode == 1
    assert f"does not open {file}. It was made with another one" in refused.stderr
    assert jobs(home) != before
    phrase_file.write_text(PHRASE)
    assert manage(home, "restore", str(file)).returncode == 0
    assert jobs(home) == before


def test_it_is_read_back_as_it_was(sealed, tmp_path, phrase_file):
    file, content = sealed
    sealing.unseal(file, tmp_path / "back.bin")
    assert (tmp_path / "back.bin").read_bytes() == content
    assert content[:4096] not in file.read_bytes()


def test_it_is_in_the_age_format(sealed):
    with zipfile.ZipFile(sealed[0]) as archive:
        for name in ("key.age", "backup.zip.age"):
            assert archive.read(name).startswith(b"age-encryption.org/v1\n-> ")
        assert b"age --decrypt --identity key.age backup.zip.age" in archive.read("README.txt")


@pytest.mark.parametrize("part", ["key.age", "backup.zip.age"])
@pytest.mark.parametrize(
    "spoil", [lambda data: data[:-70], lambda data: data[:-40] + bytes([data[-40] ^ 1]) + data[-39:]]
)
def test_a_spoiled_one_is_refused(sealed, tmp_path, phrase_file, part, spoil):
    other = tmp_path / "other.zip"
    with zipfile.ZipFile(sealed[0]) as source, zipfile.ZipFile(other, "w") as target:
        for name in source.namelist():
            target.writestr(name, spoil(source.read(name)) if name == part else source.read(name))
    with pytest.raises(SealError, match="is damaged|its key is damaged"):
        sealing.unseal(other, tmp_path / "back.bin")


def test_without_the_setting_it_says_that_it_is_encrypted(sealed, tmp_path, settings):
    settings.DIALSIDE_BACKUP_PASSPHRASE_FILE = ""
    with pytest.raises(SealError, match="is encrypted. Set DIALSIDE_BACKUP_PASSPHRASE_FILE"):
        sealing.unseal(sealed[0], tmp_path / "back.bin")


@pytest.mark.parametrize(
    ("text", "told"), [("short", "has 5 characters"), ("", "has 0 characters"), (None, "cannot be read")]
)
def test_no_backup_is_made_with_a_passphrase_that_cannot_be_used(home, phrase_file, text, told):  # noqa: F811
    phrase_file.unlink() if text is None else phrase_file.write_text(text)
    refused = manage(home, "backup")
    assert refused.returncode == 1
    assert "The backup was not made." in refused.stderr
    assert told in refused.stderr
    assert "Traceback" not in refused.stderr


def test_no_passphrase_no_sealing(settings):
    settings.DIALSIDE_BACKUP_PASSPHRASE_FILE = ""
    assert sealing.passphrase() is None
    assert not sealing.is_sealed("/nowhere.zip")
