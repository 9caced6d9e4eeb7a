"""A folder of files in which what is stored is on the disk before the row that names it is committed."""

from pathlib import Path

from django.core.files.storage import FileSystemStorage

from workshop.safekeeping.disk import sync


class DurableFiles(FileSystemStorage):
    """Django's own, synced."""

    def _save(self, name, content):
        saved = super()._save(name, content)
        path, root = Path(self.path(saved)), Path(self.location)
        sync(path)
        for folder in path.parents[: path.parents.index(root)]:
            sync(folder)
        return saved
