"""Backups under a passphrase, in the age format: what opens them is not this program alone.

A sealed backup is a ZIP with `key.age`, a key made for this backup and locked with the passphrase, and
`backup.zip.age`, the backup locked with that key; the backup itself is never held in memory.
"""

import io
import os
import zipfile
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import pyrage
from django.conf import settings

LEAST = 12
"""Characters of a passphrase."""
_KEY, _INNER, _README = "key.age", "backup.zip.age", "README.txt"
_HOW = """An encrypted backup of Dialside. `make restore FILE=...` opens it with the passphrase.
Without Dialside, any program for the age format does:

    age --decrypt --identity key.age backup.zip.age > backup.zip
"""


class SealError(Exception):
    """A backup that cannot be locked or opened; says why and what to do."""


def passphrase():
    """The passphrase of the setting's file; None where none is set. Raises SealError for one that cannot be used."""
    path = settings.DIALSIDE_BACKUP_PASSPHRASE_FILE
    if not path:
        return None
    try:
        phrase = Path(path).read_text().strip("\r\n")
    except (OSError, UnicodeDecodeError) as error:
        raise SealError(
            f"The passphrase for backups cannot be read from {path} ({getattr(error, 'strerror', 'no text')}). "
            "Put the file there, or correct DIALSIDE_BACKUP_PASSPHRASE_FILE."
        ) from error
    if len(phrase) < LEAST:
        raise SealError(f"The passphrase in {path} has {len(phrase)} characters; use at least {LEAST}.")
    return phrase


def seal(write, target, phrase):
    """Lock what `write` writes into the file that it is handed, with the passphrase, into the opened file `target`.

    It goes through a pipe: the open text is never on the disk. Raises what `write` raises.
    """
    key = pyrage.x25519.Identity.generate()
    with zipfile.ZipFile(target, "w", zipfile.ZIP_STORED) as archive:
        archive.writestr(_README, _HOW)
        archive.writestr(_KEY, pyrage.passphrase.encrypt(str(key).encode(), phrase))
        reader, writer = (os.fdopen(end, mode) for end, mode in zip(os.pipe(), ("rb", "wb"), strict=True))
        with ThreadPoolExecutor(1) as beside, archive.open(_INNER, "w", force_zip64=True) as locked:
            written = beside.submit(_write, write, writer)
            with reader:
                pyrage.encrypt_io(reader, locked, [key.to_public()])
            written.result()


def _write(write, writer):
    with writer:
        write(writer)


def is_sealed(path):
    """Tell whether a file is a backup under a passphrase."""
    try:
        with zipfile.ZipFile(path) as archive:
            return {_KEY, _INNER} <= set(archive.namelist())
    except (OSError, zipfile.BadZipFile):
        return False


def unseal(path, target):
    """Open a sealed backup as the file `target`. Raises SealError."""
    phrase = passphrase()
    if phrase is None:
        raise SealError(f"{path} is encrypted. Set DIALSIDE_BACKUP_PASSPHRASE_FILE to the file with its passphrase.")
    try:
        with zipfile.ZipFile(path) as archive:
            key = _key(archive.read(_KEY), phrase, path)
            with archive.open(_INNER) as locked, open(target, "wb") as plain:
                pyrage.decrypt_io(io.BufferedReader(locked), plain, [key])
    except (zipfile.BadZipFile, pyrage.DecryptError, pyrage.IdentityError, EOFError) as error:
        raise SealError(_damaged(path, error)) from error
    except OSError as error:
        if error.errno:
            raise
        raise SealError(_damaged(path, error)) from error


def _damaged(path, error):
    return f"{path} is damaged: it cannot be decrypted completely ({error})."


def _key(locked, phrase, path):
    try:
        return pyrage.x25519.Identity.from_str(pyrage.passphrase.decrypt(locked, phrase).decode())
    except pyrage.DecryptError as error:
        raise SealError(
            f"The passphrase in {settings.DIALSIDE_BACKUP_PASSPHRASE_FILE} does not open {path}. "
            "It was made with another one, or its key is damaged."
        ) from error
