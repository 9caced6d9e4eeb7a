"""Writing a folder: only what changed, whole files, nothing taken away that is not ours."""

import fcntl
import os
import zipfile

import pytest

from jobs.window import writing
from jobs.window.pages import File
from jobs.window.writing import LIST, Busy, write, write_zip
from tests.jobs.window.published import as_it_lies


def files(**contents):
    return {name.replace("_", "/") + ".html": File(text.encode) for name, text in contents.items()}


def test_only_what_changed_is_written_and_what_is_not_wanted_goes(tmp_path):
    assert write(files(index="one", cases_a="two", cases_b="three"), tmp_path).total == 3
    before = as_it_lies(tmp_path)
    done = write(files(index="one", cases_a="other"), tmp_path)
    assert (done.new, done.changed, done.gone) == ([], ["cases/a.html"], ["cases/b.html"])
    after = as_it_lies(tmp_path)
    assert after["index.html"] == before["index.html"]
    assert after.keys() == {LIST, "index.html", "cases/a.html"}
    assert write(files(index="one", cases_a="other"), tmp_path).total == 0
    assert as_it_lies(tmp_path) == after
    write(files(index="one"), tmp_path)
    assert not (tmp_path / "cases").exists()


def test_what_somebody_else_put_there_stays(tmp_path):
    (tmp_path / ".git").mkdir()
    (tmp_path / ".git" / "HEAD").write_text("ref")
    (tmp_path / "README.md").write_text("mine")
    write(files(index="one"), tmp_path)
    write(files(other="one"), tmp_path)
    assert (tmp_path / ".git" / "HEAD").read_text() == "ref"
    assert (tmp_path / "README.md").read_text() == "mine"
    assert not (tmp_path / "index.html").exists()


def test_a_list_that_leads_outside_takes_nothing_away(tmp_path):
    (outside := tmp_path / "outside.html").write_text("mine")
    (site := tmp_path / "site").mkdir()
    (site / LIST).write_text(f"../outside.html\n{outside}\na/../../outside.html\n")
    write(files(index="one"), site)
    assert outside.read_text() == "mine"


def test_what_a_full_disk_broke_off_is_finished_by_the_next(tmp_path, monkeypatch):
    write(files(index="old", gone="old"), tmp_path)
    wanted, put = files(index="new", a="new", b="new"), writing._put

    def full(folder, path, content):
        if path == "b.html":
            writing._part_of(folder / path).write_bytes(b"ha")
            raise OSError(28, "No space left on device")
        put(folder, path, content)

    monkeypatch.setattr(writing, "_put", full)
    with pytest.raises(OSError, match="No space"):
        write(wanted, tmp_path)
    assert (tmp_path / "index.html").read_text() == "old"
    monkeypatch.undo()
    write(wanted, tmp_path)
    assert as_it_lies(tmp_path).keys() == {LIST, "index.html", "a.html", "b.html"}


def test_each_file_is_on_the_disk_before_it_has_its_name(tmp_path, monkeypatch):
    synced = []
    monkeypatch.setattr(writing, "sync", lambda path: synced.append((path.name, path.exists())))
    write(files(index="one"), tmp_path)
    assert synced.index((".index.html.part", True)) < synced.index(("index.html", True))


def test_two_do_not_write_at_once(tmp_path):
    held = os.open(tmp_path, os.O_RDONLY)
    fcntl.flock(held, fcntl.LOCK_EX)
    with pytest.raises(Busy, match="being written right now"):
        write(files(index="one"), tmp_path)
    os.close(held)


def test_the_zip_has_the_same_bytes_for_the_same_files(tmp_path):
    (site := tmp_path / "site").mkdir()
    write(files(index="one", cases_a="two"), site)
    for name in ("a.zip", "b.zip"):
        with (tmp_path / name).open("wb") as out:
            write_zip(site, out)
        for path in site.rglob("*"):
            os.utime(path)
    assert (tmp_path / "a.zip").read_bytes() == (tmp_path / "b.zip").read_bytes()
    assert zipfile.ZipFile(tmp_path / "a.zip").namelist() == ["cases/a.html", "index.html"]
