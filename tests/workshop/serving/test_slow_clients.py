"""Slow and silent clients hold up nobody."""

import asyncio
from concurrent.futures import ThreadPoolExecutor

import pytest
from a2wsgi import WSGIMiddleware

from workshop.serving import slow_clients
from workshop.serving.slow_clients import SMALL_BYTES, patient


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
        thread.submit(asyncio.run, patient(app, seconds=seconds)(scope(length), receive, send)).result()
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


def test_a_body_in_pieces_comes_whole():
    assert answer(echo, 6, [b"ab", b"cd", b"ef"])[1]["body"] == b"abcdef"
    assert answer(echo, 0, [b""])[0]["status"] == 200
    large = [b"x" * SMALL_BYTES, b"y" * 10]
    assert answer(echo, SMALL_BYTES + 10, large)[1]["body"] == b"".join(large)


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
