"""Behind a proxy: which address is taken, who asks, and that nobody passes whom the proxy does not tell of."""

import subprocess
import sys

import pytest

from tests.workshop.serving.test_start import started
from workshop.serving.proxy import WrongAddress, proxied_host
from workshop.serving.startup import HOST

NAME = "https://bench.example"
ASKED = """
import django; django.setup()
from django.conf import settings; from django.test import Client
told = settings
"""


def run(code, tmp_path, **environment):
    """Run code in a process of its own, whose workshop is served behind a proxy."""
    base = {"DIALSIDE_DATA": str(tmp_path), "DIALSIDE_PROXY": NAME, "DJANGO_SETTINGS_MODULE": "workshop.settings"}
    call = [sys.executable, "-c", ASKED + code]
    return subprocess.run(call, env=started(**(base | environment)), capture_output=True, text=True)


@pytest.mark.parametrize(
    ("address", "host"),
    [(NAME, "bench.example"), (f"{NAME}/", "bench.example"), (f"{NAME}:8443", "bench.example")],
)
def test_the_address_that_people_open_names_the_host(address, host):
    assert proxied_host(address) == host


@pytest.mark.parametrize(
    "address", ["bench.example", "http://bench.example", f"{NAME}/workshop/", "https://", "https://ines@bench.example"]
)
def test_anything_else_is_refused_with_an_example(address):
    with pytest.raises(WrongAddress, match="such as https://name, not"):
        proxied_host(address)


@pytest.mark.parametrize(
    ("more", "words"),
    [
        ({"DIALSIDE_PROXY": "bench.example"}, "DIALSIDE_PROXY is the address that people open"),
        ({"DIALSIDE_LAN": HOST}, "127.0.0.1 is not an address of this machine"),
        ({"DIALSIDE_DEMO": "1"}, "The demo signs its visitor in by itself"),
    ],
)
def test_what_does_not_go_together_is_told_at_the_start(tmp_path, more, words):
    done = run("", tmp_path, **more)
    assert (done.returncode, words in done.stderr, "Traceback" in done.stderr) == (1, True, False)


def test_cookies_are_bound_to_tls_and_only_the_proxys_name_is_answered(tmp_path):
    code = "print(told.ALLOWED_HOSTS, told.SESSION_COOKIE_NAME, told.SESSION_COOKIE_SECURE, told.SECURE_HSTS_SECONDS)"
    done = run(code, tmp_path)
    assert done.stdout.strip() == "['bench.example', '127.0.0.1'] __Host-dialside_workshop_session True 3600"


def test_the_settings_pass_djangos_own_check_for_deployment(tmp_path):
    code = "from django.core.management import call_command; call_command('check', deploy=True, fail_level='WARNING')"
    assert "no issues" in run(code, tmp_path).stdout


def test_without_the_proxys_word_on_who_asks_only_the_health_is_told(tmp_path):
    code = """
from django.core.management import call_command; call_command('migrate', verbosity=0)
who, how = {'X-Forwarded-For': '192.0.2.7'}, {'X-Forwarded-Proto': 'https'}
for path, said in [('sign-in', {}), ('sign-in', how), ('sign-in', who), ('health', {}), ('sign-in', who | how)]:
    answer = Client().get(f'/{path}/', headers={'Host': 'bench.example'} | said, secure=bool(said))
    print(answer.status_code, answer.text.partition('the proxy does not send ')[2])
"""
    done = run(code, tmp_path)
    assert [line.strip() for line in done.stdout.splitlines()] == [
        "400 X-Forwarded-For and X-Forwarded-Proto: see docs/proxy.md.",
        "400 X-Forwarded-For: see docs/proxy.md.",
        "400 X-Forwarded-Proto: see docs/proxy.md.",
        "200",
        "302",
    ]


def test_nothing_is_served_before_there_is_an_account(tmp_path):
    code = "from django.core.management import call_command; call_command('serve', port=8998)"
    done = run(code, tmp_path)
    assert "No account yet. Start without DIALSIDE_PROXY first" in done.stderr
