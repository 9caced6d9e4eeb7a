"""The workshop's secret key, made at its first start and kept in its folder."""

import os
import secrets
from pathlib import Path


def secret_key(folder: Path) -> str:
    """Return the key kept in `folder`, making folder and key when they are missing.

    Only the owner can read either. Two processes that start together agree on one key.
    """
    key_file = folder / "secret-key"
    if not key_file.exists():
        folder.mkdir(mode=0o700, parents=True, exist_ok=True)
        draft = folder / f"secret-key.{os.getpid()}"
        draft.touch(mode=0o600)
        draft.write_text(secrets.token_urlsafe(50))
        try:
            os.link(draft, key_file)
        except FileExistsError:
            pass
        finally:
            draft.unlink()
    return key_file.read_text()
