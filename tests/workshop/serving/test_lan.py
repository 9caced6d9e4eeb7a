"""Serving on the bench's network: where, under which conditions, and the whole of it once, over TLS."""

import hashlib
import http.client
import re
import signal
import ssl
import subprocess
import sys
import urllib.parse

import pytest

from tests.factories import PASSWORD, UserFactory
from tests.ready import put_ready_database
from tests.soak.place import free_port
from tests.workshop.serving.test_start import started
from workshop.accounts.passwords import prove, unproven
from workshop.serving import lan

HERE = "127.0.0.5"
"""An address of this machine's own loop stands for the one on the network."""
AS_IF = (
    f"import workshop.serving.lan as lan; lan.own_addresses = lambda: ['{HERE}']; "
    "lan.socket.gethostname = lambda: 'Bench'\n"
)
READY = """
import django; django.setup()
from django.contrib.auth.models import User; from workshop.accounts.passwords import prove
user = User(username="ines", is_superuser=True, is_staff=True)
"""
PROVEN = f"user.set_password('{PASSWORD}'); user.save(); prove(user, '{PASSWORD}')\n"
WEAK = "user.set_password('12345678'); user.save(); prove(user, '12345678')\n"


def run(code, tmp_path, **environment):
    """Run code in a process of its own, as if the machine were on a network."""
    base = {"DIALSIDE_DATA": str(tmp_path), "DIALSIDE_LAN": "1", "DJANGO_SETTINGS_MODULE": "workshop.settings"}
    started_as = started(**(base | environment))
    return subprocess.run([sys.executable, "-c", AS_IF + code], env=started_as, capture_output=True, text=True)


def serve(port):
    return f"\nfrom django.core.management import call_command; call_command('serve', port={port})"


@pytest.fixture
def port():
    return free_port(HERE)


@pytest.mark.parametrize(
    ("own", "main", "wanted", "address"),
    [
        (["192.168.7.5"], "", "1", "192.168.7.5"),
        (["192.168.7.5", "10.0.0.2"], "10.0.0.2", "1", "10.0.0.2"),
        (["192.168.7.5", "10.0.0.2"], "10.0.0.2", "192.168.7.5", "192.168.7.5"),
    ],
)
def test_it_is_the_address_on_the_network(monkeypatch, own, main, wanted, address):
    monkeypatch.setattr(lan, "own_addresses", lambda: own)
    monkeypatch.setattr(lan, "_main_address", lambda: main)
    assert lan.lan_address(wanted) == address


@pytest.mark.parametrize(
    ("own", "wanted", "words"),
    [
        ([], "1", "not on a network"),
        (["192.168.7.5"], "0.0.0.0", "0.0.0.0 is not an address of this machine"),
        (["192.168.7.5"], "yes", "Use LAN=1, or one of: 192.168.7.5"),
        (["192.168.7.5", "10.0.0.2"], "1", "on several networks. Choose an address: LAN=192.168.7.5"),
    ],
)
def test_an_address_that_cannot_be_is_told(monkeypatch, own, wanted, words):
    monkeypatch.setattr(lan, "own_addresses", lambda: own)
    monkeypatch.setattr(lan, "_main_address", lambda: "")
    with pytest.raises(lan.NoNetwork, match=re.escape(words)):
        lan.lan_address(wanted)


def test_no_address_of_its_own_is_this_machines_loop():
    assert not [address for address in lan.own_addresses() if address.startswith("127.")]


def test_only_the_hosts_of_this_machine_are_answered_and_cookies_are_bound_to_tls(tmp_path):
    asked = "from workshop import settings as s; print(s.ALLOWED_HOSTS, s.SESSION_COOKIE_SECURE, s.SESSION_COOKIE_NAME)"
    told = run(asked, tmp_path).stdout.strip()
    assert told == f"['{HERE}', '127.0.0.1', 'bench', 'bench.local'] True __Host-dialside_workshop_session"
    told = run(asked, tmp_path, DIALSIDE_LAN="").stdout.strip()
    assert told == "['127.0.0.1', 'localhost', '[::1]'] False dialside_workshop_session"


def test_the_demo_is_not_served_on_the_network(tmp_path):
    told = run("from workshop import settings", tmp_path, DIALSIDE_DEMO="1")
    assert told.returncode == 1
    assert "it is served on this machine only" in told.stderr


@pytest.mark.parametrize("where", ["1", ""])
def test_djangos_own_check_for_serving_finds_nothing(tmp_path, where):
    code = "import django; django.setup()\nfrom django.core.management import call_command\n"
    told = run(code + "call_command('check', deploy=True, fail_level='WARNING')", tmp_path, DIALSIDE_LAN=where)
    assert (told.returncode, told.stderr) == (0, "")
    assert "no issues" in told.stdout


@pytest.mark.long
@pytest.mark.parametrize(
    ("account", "words"),
    [
        ("", "No account yet"),
        (WEAK, "this is not certain for: ines"),
        (PROVEN + WEAK, "not certain for: ines"),
    ],
)
def test_it_does_not_start_without_an_account_or_with_a_weak_password(tmp_path, port, account, words):
    put_ready_database(tmp_path / "workshop" / "dialside.sqlite3")
    told = run(READY + account + serve(port), tmp_path)
    assert told.returncode == 1
    assert words in told.stderr
    assert "https://" not in told.stdout


@pytest.mark.long
def test_it_serves_over_tls_with_the_certificate_that_it_names(tmp_path, port):
    put_ready_database(tmp_path / "workshop" / "dialside.sqlite3")
    base = {"DIALSIDE_DATA": str(tmp_path), "DIALSIDE_LAN": "1", "DJANGO_SETTINGS_MODULE": "workshop.settings"}
    server = subprocess.Popen(
        [sys.executable, "-c", AS_IF + READY + PROVEN + serve(port)],
        env=started(**base),
        stdout=subprocess.PIPE,
        text=True,
    )
    try:
        told = ""
        while "It ends on" not in told:
            line = server.stdout.readline()
            assert line, f"the server ended: {told}"
            told += line
        assert f"is at https://{HERE}:{port}/ for every device on this network" in told
        assert "█" in told
        trusting = ssl.create_default_context(cafile=tmp_path / "workshop" / "network.pem")
        site = http.client.HTTPSConnection(HERE, port, context=trusting, timeout=20)
        site.request("GET", "/sign-in/")
        page = site.getresponse()
        token = re.search(r'csrfmiddlewaretoken" value="(\w+)"', page.read().decode())[1]
        assert page.headers["Strict-Transport-Security"] == "max-age=3600"
        assert page.headers["Server"] is None
        cookie = page.headers["Set-Cookie"]
        assert cookie.startswith("__Host-dialside_workshop_csrf=")
        assert {"Secure", "HttpOnly", "SameSite=Lax", "Path=/"} <= set(cookie.split("; "))
        form = {"csrfmiddlewaretoken": token, "username": "ines", "password": PASSWORD}
        sent = {"Cookie": cookie.split(";")[0], "Content-Type": "application/x-www-form-urlencoded"}
        sent["Origin"] = f"https://{HERE}:{port}"
        site.request("POST", "/sign-in/", urllib.parse.urlencode(form), sent)
        answer = site.getresponse()
        assert (answer.status, answer.headers["Location"]) == (302, "/")
        shown = site.sock.getpeercert(binary_form=True)
        named = re.search(r"^  ((?:[0-9A-F]{2}:){31}[0-9A-F]{2})$", told, re.MULTILINE)[1]
        assert hashlib.sha256(shown).hexdigest().upper() == named.replace(":", "")
    finally:
        server.send_signal(signal.SIGINT)
        server.wait(15)
    assert server.returncode == 0


@pytest.mark.django_db
def test_a_password_counts_as_strong_only_as_it_was_tested():
    ines, emil = UserFactory(username="ines"), UserFactory(username="emil")
    UserFactory(username="away", is_active=False)
    assert unproven() == ["ines", "emil"]
    assert prove(ines, PASSWORD)
    assert not prove(emil, "emil")
    assert unproven() == ["emil"]
    ines.set_password("another one")
    ines.save()
    assert unproven() == ["ines", "emil"]


@pytest.mark.django_db
def test_signing_in_tests_the_password_and_tells_of_a_weak_one(client):
    UserFactory(username="ines", is_superuser=True)
    UserFactory(username="emil", password="1234567890")
    client.post("/sign-in/", {"username": "ines", "password": PASSWORD})
    assert unproven() == ["emil"]
    page = client.post("/sign-out/") and client.post(
        "/sign-in/", {"username": "emil", "password": "1234567890"}, follow=True
    )
    assert "Your password is easy to guess. Change it under your name" in page.text
    assert unproven() == ["emil"]
