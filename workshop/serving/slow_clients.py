"""What keeps slow or silent clients from holding the few threads that serve everybody.

A body is gathered before a thread takes up the request, a small one in memory, a large one on the disk; both must keep
coming. A connection on which no whole request arrives is closed.
"""

import asyncio
import tempfile
import time

from django.conf import settings
from uvicorn.protocols.http.h11_impl import H11Protocol

from workshop.outside_errors import sentence_for
from workshop.serving import uploads

PATIENCE_S = 30
SMALL_BYTES = 256_000
_PIECE = 64 * 1024
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


def patient(app, seconds=PATIENCE_S, account_of=uploads.account_of):
    """Wrap an ASGI application so that each wait for a request's body, or for an answer to be taken, has an end."""

    async def wrapped(scope, receive, send):
        if scope["type"] != "http":
            return await app(scope, receive, send)
        body, has_begun = _Body(receive, seconds), False

        async def send_soon(message):
            nonlocal has_begun
            has_begun = True
            await asyncio.wait_for(send(message), seconds)

        length = _length(scope)
        try:
            if length > uploads.MOST_BYTES:
                return await _refuse(send, 413, "This is larger than any page takes. Send less at once.")
            if 0 < length <= SMALL_BYTES:
                await body.gather()
            elif length and (account := await uploads.ask(account_of, scope)) is not None:
                async with uploads.turn(account, seconds / 2):
                    await body.gather_on_disk()
            return await app(scope, body.receive, send_soon)
        except TimeoutError:
            if not has_begun:
                await _refuse(send, 408, "Nothing came for too long.")
        except _Gone:
            return None
        except uploads.TooManyUploads:
            await _refuse(send, 429, "Too many uploads at once. Wait until the others are done, then send it again.")
        except OSError as error:
            sentence = sentence_for(error)
            if has_begun or not sentence:
                raise
            await _refuse(send, 503, f"{sentence} Nothing was saved.")
        finally:
            body.close()

    return wrapped


class _Gone(Exception):
    """The client broke off in the middle of its body: what came is no form."""


async def _refuse(send, status, sentence):
    headers = [(b"connection", b"close"), (b"content-type", b"text/plain; charset=utf-8")]
    await send({"type": "http.response.start", "status": status, "headers": headers})
    await send({"type": "http.response.body", "body": sentence.encode()})


class _Body:
    """The pieces of a request's body, waited for no longer than is fair."""

    def __init__(self, receive, seconds):
        self.wait_for_piece, self.seconds = receive, seconds
        self.begun, self.got, self.gathered, self.file = time.monotonic(), 0, [], None

    async def receive(self):
        if self.gathered:
            return self.gathered.pop(0)
        if self.file and (piece := self.file.read(_PIECE)):
            return {"type": "http.request", "body": piece, "more_body": self.file.tell() < self.got}
        return await self._next()

    async def _next(self):
        left = self.seconds + self.got / SLOWEST_BYTES_S - (time.monotonic() - self.begun)
        message = await asyncio.wait_for(self.wait_for_piece(), max(min(left, self.seconds), 0.001))
        self.got += len(message.get("body", b""))
        return message

    async def _piece(self):
        message = await self._next()
        if message["type"] == "http.disconnect":
            raise _Gone
        return message

    async def gather(self):
        """Wait for all of it."""
        pieces = []
        while not pieces or pieces[-1].get("more_body"):
            pieces.append(await self._piece())
        self.gathered = pieces

    async def gather_on_disk(self):
        """Wait for all of it, kept in a file without a name."""
        file, more = tempfile.TemporaryFile(dir=settings.DIALSIDE_FOLDER), True  # noqa: SIM115 closed by `close`
        self.file = file
        while more:
            message = await self._piece()
            file.write(message.get("body", b""))
            more = message.get("more_body")
        file.seek(0)

    def close(self):
        if self.file:
            self.file.close()


def _length(scope):
    length = dict(scope.get("headers", ())).get(b"content-length", b"0")
    return int(length) if length.isdigit() else 0
