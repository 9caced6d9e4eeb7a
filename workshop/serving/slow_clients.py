"""What keeps slow or silent clients from holding the few threads that serve everybody.

A small body is gathered before a thread takes up the request; a large one must keep coming. A connection on which no
whole request arrives is closed.
"""

import asyncio
import time

from uvicorn.protocols.http.h11_impl import H11Protocol

PATIENCE_S = 30
SMALL_BYTES = 256_000
SLOWEST_BYTES_S = 50_000
"""A body has the patience, and from then on must have come at this rate on the whole; slower than any bench's WLAN."""


class PatientProtocol(H11Protocol):
    """Closes a connection on which no new request has begun for two looks."""

    def connection_made(self, transport):
        super().connection_made(transport)
        self._look(before=self)

    def _look(self, before):
        if self.transport.is_closing():
            return
        if before is self.cycle and (self.cycle is None or self.cycle.response_complete):
            self.transport.close()
        else:
            self.loop.call_later(PATIENCE_S, self._look, self.cycle)


def patient(app, seconds=PATIENCE_S):
    """Wrap an ASGI application so that each wait for a request's body, or for an answer to be taken, has an end."""

    async def wrapped(scope, receive, send):
        if scope["type"] != "http":
            return await app(scope, receive, send)
        body, has_begun = _Body(receive, seconds), False

        async def send_soon(message):
            nonlocal has_begun
            has_begun = True
            await asyncio.wait_for(send(message), seconds)

        try:
            if 0 < _length(scope) <= SMALL_BYTES:
                await body.gather()
            return await app(scope, body.receive, send_soon)
        except TimeoutError:
            if not has_begun:
                await send({"type": "http.response.start", "status": 408, "headers": [(b"connection", b"close")]})
                await send({"type": "http.response.body", "body": b"Nothing came for too long."})

    return wrapped


class _Body:
    """The pieces of a request's body, waited for no longer than is fair."""

    def __init__(self, receive, seconds):
        self.wait_for_piece, self.seconds = receive, seconds
        self.begun, self.got, self.gathered = time.monotonic(), 0, []

    async def receive(self):
        if self.gathered:
            return self.gathered.pop(0)
        left = self.seconds + self.got / SLOWEST_BYTES_S - (time.monotonic() - self.begun)
        message = await asyncio.wait_for(self.wait_for_piece(), max(min(left, self.seconds), 0.001))
        self.got += len(message.get("body", b""))
        return message

    async def gather(self):
        """Wait for all of it."""
        pieces = []
        while not pieces or pieces[-1].get("more_body"):
            pieces.append(await self.receive())
        self.gathered = pieces


def _length(scope):
    length = dict(scope.get("headers", ())).get(b"content-length", b"0")
    return int(length) if length.isdigit() else 0
