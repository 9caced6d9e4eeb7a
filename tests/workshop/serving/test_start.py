"""Starting a workshop: its key, its port, its static files, and the whole of it once."""

import gzip
import os
import re
import signal
import socket
import stat
import subprocess
import sys
import urllib.request
from argparse import ArgumentTypeError

import pytest

from tests.soak.place import free_port
from workshop.management.commands.serve import port_number
from workshop.secret import secret_key
from workshop.serving import startup


def test_the_key_is_made_once_and_only_its_owner_can_read_it(tmp_path):
    folder = tmp_path / "workshop"
    key = secret_key(folder)
    assert len(key) >= 50
    assert secret_key(folder) == key
    assert secret_key(tmp_path / "demo") != key
    assert [file.name for file in folder.iterdir()] == ["secret-key"]
    assert stat.S_IMODE((folder / "secret-key").stat().st_mode) == 0o600
    assert stat.S_IMODE(folder.stat().st_mode) == 0o700


def test_a_busy_port_is_told_in_a_sentence():
    with socket.create_server(("127.0.0.1", 0)) as busy:
        port = busy.getsockname()[1]
        with pytest.raises(startup.CannotStart, match=f"^Port {port} is in use .*: PORT=8000$"):
            startup.open_port(port)


@pytest.mark.parametrize("text", ["0", "65536", "-1", "eight", "", "80.0"])
def test_what_is_no_port_is_refused(text):
    with pytest.raises(ArgumentTypeError, match=f"1 to 65535, not '{text}'"):
        port_number(text)


def test_static_files_are_collected_only_when_one_changed(tmp_path, settings):
    source = tmp_path / "source"
    source.mkdir()
    (source / "look.css").write_text("a {}")
    settings.DIALSIDE_FOLDER = tmp_path
    settings.STATIC_ROOT = tmp_path / "static"
    settings.STATICFILES_DIRS = [source]
    settings.STATICFILES_FINDERS = ["django.contrib.staticfiles.finders.FileSystemFinder"]
    assert startup.collect_static()
    assert not startup.collect_static()
    (source / "look.css").write_text("b {} ")
    assert startup.collect_static()
    assert (tmp_path / "static" / "look.css").read_text() == "b {} "


def started(**environment):
    """Give the environment of a fresh process, free of what these tests run under."""
    ours = ("DIALSIDE_", "DJANGO_")
    return {k: v for k, v in os.environ.items() if not k.startswith(ours)} | environment


def setting(expression, **environment):
    """Evaluate an expression over the settings as another environment would have them."""
    return subprocess.run(
        [sys.executable, "-c", f"from workshop import settings; print({expression})"],
        env=started(**environment),
        capture_output=True,
        text=True,
        check=True,
    ).stdout.strip()


def test_the_environment_chooses_the_database(tmp_path):
    engine_and_name = "settings.DATABASES['default']['ENGINE'], settings.DATABASES['default']['NAME']"
    postgres = {"DIALSIDE_DATA": str(tmp_path), "DIALSIDE_DATABASE": "postgres://ines@localhost/bench"}
    assert setting(engine_and_name, **postgres) == "django.db.backends.postgresql bench"
    assert (
        setting(engine_and_name, **postgres, DIALSIDE_DEMO="1")
        == f"django.db.backends.sqlite3 {tmp_path}/demo/dialside.sqlite3"
    )
    assert (
        setting(engine_and_name, DIALSIDE_DATA=str(tmp_path))
        == f"django.db.backends.sqlite3 {tmp_path}/workshop/dialside.sqlite3"
    )
    assert setting("settings.DEBUG", DIALSIDE_DATA=str(tmp_path)) == "False"


@pytest.mark.long
def test_the_demo_starts_from_nothing_and_serves_hashed_compressed_files(tmp_path):
    port = free_port()
    server = subprocess.Popen(
        [sys.executable, "manage.py", "serve", "--port", str(port)],
        env=started(DIALSIDE_DEMO="1", DIALSIDE_DATA=str(tmp_path)),
        stdout=subprocess.PIPE,
        text=True,
    )
    try:
        assert (
            server.stdout.readline()
            == "The demo workshop has 27 fit checks, 5 watches on the bench and 8 from earlier.\n"
        )
        line = server.stdout.readline()
        assert line == f"Dialside (demo workshop) is at http://127.0.0.1:{port}/  (Ctrl-C stops it)\n"
        page = urllib.request.urlopen(f"http://127.0.0.1:{port}/").read().decode()
        assert "Demo<span> workshop</span>" in page
        address = re.search(r'href="(/static/css/base\.[0-9a-f]{12}\.css)"', page)[1]
        wanted = urllib.request.Request(f"http://127.0.0.1:{port}{address}", headers={"Accept-Encoding": "gzip"})
        with urllib.request.urlopen(wanted) as answer:
            assert "immutable" in answer.headers["Cache-Control"]
            assert b"--ground" in gzip.decompress(answer.read())
    finally:
        server.send_signal(signal.SIGINT)
        server.wait(10)
    assert server.returncode == 0
    assert [folder.name for folder in tmp_path.iterdir()] == ["demo"]
