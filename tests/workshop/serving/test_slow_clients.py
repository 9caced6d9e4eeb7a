"""Slow and silent clients hold up nobody."""

import asyncio
import time
from concurrent.futures import ThreadPoolExecutor

import pytest
from a2wsgi import WSGIMiddleware

from workshop.serving import slow_clients, uploads
from workshop.serving.slow_clients import SMALL_BYTES, patient
from workshop.serving.uploads import AT_ONCE, account_of


def scope(length):
    headers = [(b"content-length", str(length).encode())]
    return {
        "type": "http",
        "method": "POST",
        "path": "/",
        "query_string": b"",
        "http_version": "1.1",
        "headers": headers,
    }


def answer(app, length, pieces, pause=0.0, seconds=0.05, taking=0.0):
    """What an application answers to a body that comes in pieces, each after a pause, None for one that never comes."""
    sent, coming = [], list(pieces)

    async def receive():
        await asyncio.sleep(pause)
        piece = coming.pop(0)
        if piece is None:
            await asyncio.sleep(60)
        return {"type": "http.request", "body": piece, "more_body": bool(coming)}

    async def send(message):
        await asyncio.sleep(taking)
        sent.append(message)

    # In a thread of its own: browser tests before it leave a loop running in this one.
    with ThreadPoolExecutor(1) as thread:
        thread.submit(
            asyncio.run, patient(app, seconds=seconds, account_of=lambda _scope: None)(scope(length), receive, send)
        ).result()
    return sent


async def echo(scope, receive, send):
    """Tells how many pieces it read."""
    body = b""
    while (message := await receive()).get("more_body"):
        body += message["body"]
    body += message["body"]
    await send({"type": "http.response.start", "status": 200, "headers": []})
    await send({"type": "http.response.body", "body": body})


async def untouched(scope, receive, send):
    raise AssertionError("a thread would have been taken")


async def early(scope, receive, send):
    """Answers without reading."""
    await send({"type": "http.response.start", "status": 302, "headers": []})
    await send({"type": "http.response.body", "body": b""})


def test_a_body_in_pieces_comes_whole():
    assert answer(echo, 6, [b"ab", b"cd", b"ef"])[1]["body"] == b"abcdef"
    assert answer(echo, 0, [b""])[0]["status"] == 200
    large = [b"x" * SMALL_BYTES, b"y" * 10]
    assert answer(echo, SMALL_BYTES + 10, large)[1]["body"] == b"".join(large)


def together(app, uploads, seconds=0.5):
    """Send bodies at once, each as (account, pieces), None for a piece that never comes; (status, s) of each."""

    async def one(account, pieces):
        sent, coming, began = [], list(pieces), time.monotonic()

        async def receive():
            if (piece := coming.pop(0)) is None:
                await asyncio.sleep(60)
            return {"type": "http.request", "body": piece, "more_body": bool(coming)}

        async def send(message):
            sent.append(message)

        await patient(app, seconds=seconds, account_of=lambda _scope: account)(scope(SMALL_BYTES + 1), receive, send)
        return sent[0]["status"], time.monotonic() - began

    async def all_of_them():
        return await asyncio.gather(*(one(*upload) for upload in uploads))

    with ThreadPoolExecutor(1) as thread:
        return thread.submit(asyncio.run, all_of_them()).result()


def test_a_large_body_that_stops_takes_no_thread_once_its_account_is_known():
    assert together(untouched, [(1, [b"ab", None])])[0][0] == 408


def test_stalled_uploads_of_one_account_hold_up_only_that_account():
    stalled, whole = [(1, [b"ab", None])] * 20, (2, [b"x" * SMALL_BYTES, b"y"])
    answers = together(echo, [*stalled, whole])
    assert answers[-1][0] == 200
    assert answers[-1][1] < 0.3
    statuses = [status for status, _ in answers[:-1]]
    assert (statuses.count(408), statuses.count(429)) == (AT_ONCE, 20 - AT_ONCE)


@pytest.mark.parametrize("length", [6, SMALL_BYTES + 1])
def test_a_body_that_breaks_off_is_no_form(length):
    coming = [{"type": "http.request", "body": b"ab", "more_body": True}, {"type": "http.disconnect"}]

    async def receive():
        return coming.pop(0)

    async def send(_message):
        raise AssertionError("nobody is there")

    wrapped = patient(untouched, seconds=1, account_of=lambda _scope: 1)
    with ThreadPoolExecutor(1) as thread:
        thread.submit(asyncio.run, wrapped(scope(length), receive, send)).result()


def test_who_is_not_signed_in_has_no_large_body_gathered():
    sent = together(early, [(None, [b"ab", None])])
    assert sent[0][0] == 302


def test_a_body_larger_than_any_page_takes_is_refused_unread():
    assert answer(untouched, uploads.MOST_BYTES + 1, [])[0]["status"] == 413


def test_a_disk_that_is_full_meanwhile_is_told(monkeypatch):
    def full(**_arguments):
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(slow_clients.tempfile, "TemporaryFile", full)
    assert together(untouched, [(1, [b"ab", b"cd"])])[0][0] == 503


@pytest.mark.django_db(transaction=True)
def test_the_account_is_that_of_the_sessions_cookie(owner_client, owner):
    key = owner_client.session.session_key

    def asked(cookie):
        return account_of({"headers": [(b"cookie", cookie.encode())]})

    assert asked(f"other=1; dialside_workshop_session={key}") == owner.pk
    assert asked("dialside_workshop_session=made-up") is None
    assert account_of({"headers": []}) is None


def test_a_small_body_that_stops_takes_no_thread():
    assert answer(untouched, 6, [b"ab", None])[0]["status"] == 408


def test_a_large_body_that_stops_is_given_up():
    assert answer(echo, SMALL_BYTES + 1, [b"ab", None])[0]["status"] == 408


def test_a_body_that_drips_is_given_up_although_each_wait_is_short():
    assert answer(echo, 400, [b"a"] * 400, pause=0.01)[0]["status"] == 408


def test_a_body_that_keeps_coming_may_take_its_time(monkeypatch):
    monkeypatch.setattr(slow_clients, "SLOWEST_BYTES_S", 10)
    assert answer(echo, 12, [b"aaa"] * 4, pause=0.03)[0]["status"] == 200


def test_who_does_not_take_the_answer_is_given_up():
    assert answer(echo, 2, [b"ab"], taking=60) == []


def test_a_wsgi_application_reads_it_too():
    def app(environ, start_response):
        body = environ["wsgi.input"].read(int(environ["CONTENT_LENGTH"]))
        start_response("200 OK", [("Content-Length", str(len(body)))])
        return [body]

    async def made_in_the_loop(*arguments):
        await WSGIMiddleware(app)(*arguments)

    assert b"".join(one.get("body", b"") for one in answer(made_in_the_loop, 4, [b"ab", b"cd"], seconds=5)) == b"abcd"


@pytest.mark.django_db
def test_an_address_that_is_open_to_everybody_takes_little(client, owner):
    page = client.post("/sign-in/", {"username": "owner", "password": "x" * 100_001})
    assert (page.status_code, "could not read" in page.text) == (400, True)
