"""The workshop's secret key, made at its first start and kept in its folder."""

import os
import secrets
from pathlib import Path

from parts.tools.disk import sync


def secret_key(folder: Path) -> str:
    """Return the key kept in `folder`, making folder and key when they are missing.

    Only the owner can read either. Two processes that start together agree on one key. An empty or garbled one, as a
    full or broken disk leaves it, is made anew: everybody has to sign in again.
    """
    key_file = folder / "secret-key"
    if not (key_file.exists() and key_file.read_bytes().isascii() and key_file.stat().st_size):
        key_file.unlink(missing_ok=True)
        folder.mkdir(mode=0o700, parents=True, exist_ok=True)
        draft = folder / f"secret-key.{os.getpid()}"
        draft.touch(mode=0o600)
        draft.write_text(secrets.token_urlsafe(50))
        sync(draft)
        try:
            os.link(draft, key_file)
        except FileExistsError:
            pass
        finally:
            draft.unlink()
    return key_file.read_text()
