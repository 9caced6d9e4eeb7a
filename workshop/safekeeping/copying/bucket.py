"""Files of a folder in an S3-compatible bucket: only what changed is sent, and what is gone is taken away.

Which of them the bucket has, and of what content, stands in a list of its own there; other objects are left alone.
"""

from __future__ import annotations

import hashlib
from collections.abc import Iterable
from pathlib import Path
from typing import NamedTuple
from urllib.parse import urlsplit

from django.conf import settings
from django.core.files.base import ContentFile
from django.utils.module_loading import import_string

from workshop.safekeeping.filestore import FilesSettingError, file_storage

LIST = "dialside-site.txt"
"""What lies in the bucket: on each line the SHA-256 of a file and its path."""


class NotCopied(ValueError):
    """Why the files were not copied into the bucket, and what to do."""


class Sent(NamedTuple):
    """How many files were new or changed, and how many were taken away."""

    sent: int
    gone: int


def copy(folder: Path, paths: Iterable[str], to: str) -> Sent:
    """Send what changed of these files of a folder to s3://bucket/prefix. Raises NotCopied.

    Pages come after what they need. The bucket of the workshop's own files is refused: it stays closed.
    """
    storage = _storage(to)
    try:
        there = _there(storage)
        here = {path: hashlib.sha256((folder / path).read_bytes()).hexdigest() for path in paths}
        changed = {path for path in here if there.get(path) != here[path]}
        gone = there.keys() - here.keys()
        for path in sorted(changed, key=lambda path: (path.endswith((".html", ".xml")), path)):
            storage.save(path, ContentFile((folder / path).read_bytes()))
        for path in gone:
            storage.delete(path)
        if changed or gone:
            lines = "".join(f"{digest} {path}\n" for path, digest in sorted(here.items()))
            storage.save(LIST, ContentFile(lines.encode()))
    except Exception as error:
        reason = _reason(error)
        if not reason:
            raise
        again = "Publishing again goes on from there."
        raise NotCopied(f"The site was not copied to {to} whole: {reason}. {again}") from error
    return Sent(len(changed), len(gone))


def _storage(to):
    if settings.DIALSIDE_FILES and _bucket(to) == _bucket(settings.DIALSIDE_FILES):
        raise NotCopied(f"{to} is the bucket of your photos and papers, which stays closed. Take another one.")
    try:
        described = file_storage(to)
    except FilesSettingError as error:
        raise NotCopied(str(error).replace("DIALSIDE_FILES", "TO")) from error
    return import_string(described["BACKEND"])(**described["OPTIONS"] | {"file_overwrite": True})


def _bucket(address):
    return urlsplit(address).netloc


def _there(storage):
    """The files that the bucket has, each with the digest of its content."""
    if not storage.exists(LIST):
        return {}
    with storage.open(LIST) as file:
        lines = file.read().decode().splitlines()
    return {path: digest for digest, _, path in (line.partition(" ") for line in lines) if path}


def _reason(error):
    """What the bucket's library says of a fault; "" for any other one."""
    from boto3.exceptions import Boto3Error
    from botocore.exceptions import BotoCoreError, ClientError

    return str(error).rstrip(".") if isinstance(error, BotoCoreError | ClientError | Boto3Error | OSError) else ""
