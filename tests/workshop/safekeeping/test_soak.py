"""Short versions of `make soak`: the plug pulled, acts cut off, a full disk, harmful files, an earlier demo."""

import signal
import subprocess
import sys
from pathlib import Path

import pytest

from tests.soak import (
    backup,
    bench_of_all,
    cut,
    day,
    forms,
    full,
    kill,
    processes,
    proxy,
    stopped,
    upgrade,
    uploads,
    writers,
)
from tests.soak.ledger import Ledger, sqlite
from tests.soak.place import ROOT, Place, environment
from tests.soak.writing import Writer
from workshop.serving import serving_lock

pytestmark = pytest.mark.long


def figures(found):
    """The figures by name, once nothing was wrong."""
    if found.skipped:
        pytest.skip(found.skipped)
    assert found.faults == []
    return dict(found.figures)


def test_nothing_acknowledged_is_lost_when_the_server_is_killed():
    told = figures(kill.run(cycles=10))
    assert (told["cycles, each ended by SIGKILL"], told["lost"]) == (10, 0)
    assert told["acknowledged writes"] > 10


def test_eight_writers_see_no_error():
    told = figures(writers.run(seconds=3))
    assert (told["errors shown"], told["lost"]) == (0, 0)
    assert told["acknowledged writes"] > 20


@pytest.mark.django_db
def test_harmful_files_are_refused_whole(files):
    told = figures(uploads.attack(bench_of_all.fill(), 300, seed=11))
    assert told["fields that take files"] == "8"


@pytest.mark.django_db
def test_whatever_a_form_is_sent_it_answers_in_words(files):
    told = figures(forms.fuzz(bench_of_all.fill(), 720, seed=11))
    tried, there = told["addresses of the map tried"].split(" of ")
    assert tried == there


def test_what_is_cut_off_is_whole_after_the_next_start():
    killed, of = figures(cut.run(cycles=15))["acts, each cut off by SIGKILL"].split(";")[0].split(" of ")
    assert (int(killed) >= 3, of) == (True, "15")


def test_a_server_that_stands_still_goes_on():
    assert figures(stopped.run(stops=1))["times stopped, each for"] == "1, 4 s"


def test_a_full_and_a_read_only_disk_are_told_in_words():
    told = figures(full.run(rounds=2))
    assert told["answers, full"]["refused"] >= 3
    assert told["answers, read_only"]["refused"] >= 3
    assert told["answers, well again"]["refused"] == 0


def test_a_server_does_not_grow():
    assert figures(day.run(requests=400))["requests, different pages"].startswith("400, ")


def test_a_backup_under_load_holds_all_that_was_acknowledged_before():
    told = figures(backup.run(count=1))
    assert told["acknowledged writes held against"] > 10


def test_the_demo_of_the_program_before_is_opened():
    figures(upgrade.run(count=1))


def test_the_demo_of_the_first_edition_is_opened():
    figures(upgrade.run(count=2))


@pytest.mark.postgres
def test_the_demo_of_the_first_edition_is_opened_on_postgresql():
    figures(upgrade.run(count=2, server=True))


@pytest.mark.postgres
def test_two_web_processes_share_one_postgresql():
    told = figures(processes.run(seconds=3))
    assert (told["errors shown"], told["lost"]) == (0, 0)


@pytest.mark.postgres
def test_two_web_processes_serve_behind_the_proxy_of_the_documentation():
    told = figures(proxy.run(seconds=3))
    assert (told["errors shown"], told["lost"], told["wrong passwords before the wait"]) == (0, 0, 5)


def test_the_ledger_notices_what_is_lost():
    """A trial that cannot fail would prove nothing."""
    with Place() as place:
        port, ledger = place.start(), Ledger()
        one = Writer(place.visitor(port), ledger)
        for step in (one.log, one.write_remark, one.put_minutes, one.photo):
            step()
        place.end(port, signal.SIGINT)
        ask, files = sqlite(place.database), place.home / "files"
        assert (one.errors, len(ledger), ledger.lost(ask, files)) == ([], 4, [])
        for photo in (files / "photos").rglob("*-small.jpg"):
            photo.unlink()
        number, (note,), ((width, height),) = one.job, ledger.minutes, ledger.photos
        ledger.jobs["26-999"], ledger.remarks[number] = "Nobody", 2
        ledger.minutes.add("never")
        assert note != "never"
        assert sorted(ledger.lost(ask, files)) == [
            "job 26-999 of Nobody",
            "minutes never",
            f"photo of {width} x {height}",
            f"remark 2 of {number}",
            "stages of job 26-999",
        ]


def test_the_restore_drill_as_the_readme_has_it(tmp_path):
    """On another machine there is the backup's file, the program and its README, and nothing else."""
    assert "`make restore FILE=...` puts one back" in (ROOT / "README.md").read_text()
    with Place() as place:
        port, ledger = place.start(), Ledger()
        one = Writer(place.visitor(port), ledger)
        for step in (one.log, one.write_remark, one.put_minutes, one.photo):
            step()
        made = place.manage("backup")
        file = tmp_path / "carried-over.zip"
        file.write_bytes(Path(made.stdout.split(" holds ")[0]).read_bytes())
    other = tmp_path / "elsewhere"
    call = [sys.executable, "manage.py", "restore", str(file)]
    done = subprocess.run(call, cwd=ROOT, env=environment(other), capture_output=True, text=True)
    assert (done.returncode, done.stderr) == (0, "")
    with Place(other) as second:
        port = second.start()
        status, _, page = second.visitor(port).get(f"/jobs/{one.job}/")
        second.end(port, signal.SIGINT)
        assert (status, ledger.jobs[one.job] in page) == (200, True)
        assert ledger.lost(sqlite(second.database), second.home / "files") == []


def test_several_hold_the_workshop_only_where_all_share_it(settings, tmp_path):
    settings.DIALSIDE_FOLDER = tmp_path
    with serving_lock.take(shared=True), serving_lock.take(shared=True):
        assert serving_lock.take() is None
    with serving_lock.take():
        assert serving_lock.take(shared=True) is None
