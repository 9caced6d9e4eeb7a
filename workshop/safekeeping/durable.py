"""A folder of files in which what is stored is whole, and on the disk, before the row that names it is committed."""

import os
from pathlib import Path
from uuid import uuid4

from django.core.files.storage import FileSystemStorage

from parts.tools.disk import sync

PART = ".part"
"""How the name of a file ends that is not whole yet."""


class DurableFiles(FileSystemStorage):
    """Django's own, synced; what cannot be written whole, as on a full disk, leaves no part of itself."""

    def _save(self, name, content):
        part, saved = f"{name}.{uuid4().hex}{PART}", None
        try:
            super()._save(part, content)
            saved = self._give_name(part, name)
            self._sync(Path(self.path(saved)))
        except BaseException:
            if saved:
                self.delete(saved)
            raise
        finally:
            self.delete(part)
        return saved

    def _give_name(self, part, name):
        """Link the part under the name, or the next that is free; returns it."""
        while True:
            try:
                os.link(self.path(part), self.path(name))
            except FileExistsError:
                name = self.get_available_name(name)
            else:
                return os.path.relpath(self.path(name), self.location)

    def _sync(self, path):
        root = Path(self.location)
        sync(path)
        for folder in path.parents[: path.parents.index(root)]:
            sync(folder)
