"""Putting the database back as it was before an update that failed."""

from workshop.safekeeping import safe_migrate


class Closed:
    """A connection to a file."""

    def __init__(self, path):
        self.settings_dict = {"NAME": str(path)}

    def close(self):
        """Nothing is open."""


def test_nothing_of_the_failed_update_stays_beside_the_copy_that_is_put_back(tmp_path, monkeypatch):
    database, copy, other = tmp_path / "dialside.sqlite3", tmp_path / "copy", tmp_path / "other.sqlite3-wal"
    for path, text in ((database, "half"), (copy, "whole"), (other, "another's")):
        path.write_text(text)
    for end in ("wal", "shm"):
        (tmp_path / f"{database.name}-{end}").write_text("half")
    monkeypatch.setattr(safe_migrate, "connection", Closed(database))
    told = safe_migrate._after_failure(copy, ValueError("no such column"))
    assert "The update of the database failed: no such column." in told
    assert told.endswith(f"The database is as it was before, and a copy of it is in {copy}.")
    assert {path.name: path.read_text() for path in tmp_path.iterdir()} == {
        "dialside.sqlite3": "whole",
        "copy": "whole",
        "other.sqlite3-wal": "another's",
    }


def test_without_a_copy_the_finished_steps_stay(monkeypatch):
    told = safe_migrate._after_failure(None, ValueError("no such column"))
    assert told.endswith("Its finished steps stay, the failed one was undone.")
